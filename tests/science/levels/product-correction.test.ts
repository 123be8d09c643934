import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groundwaterElevationFt } from '../../../src/science/levels/groundwater-elevation.ts';
import { formationThicknessIn, productCorrection } from '../../../src/science/levels/product-correction.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');
const hundredths = (low: number, high: number) =>
  fc.integer({ min: low, max: high }).map((value) => (value / 100).toFixed(2));

describe('groundwater elevation', () => {
  // County file, doc 471029, page 11 (30 Jul 2003).
  it('is 39.14 ft for water at 9.08 ft below a point at 48.22 ft', () => {
    expect(groundwaterElevationFt({ measuringPointElevationFt: '48.22', depthToWaterFt: '9.08' })).toBe('39.14');
  });

  it('is above the point for a flowing well', () => {
    expect(groundwaterElevationFt({ measuringPointElevationFt: '48.22', depthToWaterFt: '-12.04' })).toBe('60.26');
  });

  it('falls as far as the depth to water grows', () => {
    fc.assert(
      fc.property(hundredths(-1_000, 90_000), hundredths(-1_000, 90_000), (depth, more) => {
        const at = (depthToWaterFt: string) =>
          new Decimal(String(groundwaterElevationFt({ measuringPointElevationFt: '512.34', depthToWaterFt })));
        expect(
          at(depth)
            .minus(at(new Decimal(depth).plus(more).toFixed(2)))
            .equals(more),
        ).toBe(true);
      }),
    );
  });

  it('refuses what is no decimal', () => {
    expect(why(groundwaterElevationFt({ measuringPointElevationFt: '48.22', depthToWaterFt: 'dry' }))).toContain(
      'depthToWaterFt "dry"',
    );
  });
});

describe('correction for floating product', () => {
  // County file, doc 471029, page 11: DTW 9.08, thickness 0.33, 0.83: 0.27 (0.2739), 8.81; elevation 39.14 to 39.41.
  it('is the one of the county file', () => {
    const corrected = productCorrection({ depthToProductFt: '8.75', depthToWaterFt: '9.08', specificGravity: '0.83' });
    expect(corrected).toEqual({
      thicknessFt: '0.33',
      riseFt: '0.2739',
      exactDepthToWaterFt: '8.8061',
      depthToWaterFt: '8.81',
    });
    expect(groundwaterElevationFt({ measuringPointElevationFt: '48.22', depthToWaterFt: '8.81' })).toBe('39.41');
  });

  it('is what the other way of writing it gives: DTP + T (1 - SG)', () => {
    fc.assert(
      fc.property(hundredths(-500, 5_000), hundredths(0, 600), hundredths(1, 99), (product, thickness, gravity) => {
        const depthToWaterFt = new Decimal(product).plus(thickness).toFixed(2);
        const corrected = productCorrection({ depthToProductFt: product, depthToWaterFt, specificGravity: gravity });
        if (isRefusal(corrected)) throw new Error(corrected.refused);
        const other = new Decimal(product).plus(new Decimal(thickness).times(new Decimal(1).minus(gravity)));
        expect(new Decimal(corrected.exactDepthToWaterFt).equals(other)).toBe(true);
        expect(other.gte(product) && other.lte(depthToWaterFt)).toBe(true);
      }),
    );
  });

  it('leaves a well without product alone', () => {
    expect(
      productCorrection({ depthToProductFt: '9.08', depthToWaterFt: '9.08', specificGravity: '0.83' }),
    ).toMatchObject({ thicknessFt: '0.00', depthToWaterFt: '9.08' });
  });

  // County file, doc 547934, page 22, corrects by a fixed 0.8 whatever the product: 0.74 of gasoline or 0.84 of diesel.
  it('has no default density: over 3 ft, 0.74, 0.8 and 0.84 are a third of a foot apart', () => {
    const at = (specificGravity: string | undefined) =>
      productCorrection({ depthToProductFt: '10.00', depthToWaterFt: '13.00', specificGravity });
    expect(at('0.74')).toMatchObject({ depthToWaterFt: '10.78' });
    expect(at('0.8')).toMatchObject({ depthToWaterFt: '10.60' });
    expect(at('0.84')).toMatchObject({ depthToWaterFt: '10.48' });
    expect(why(at(undefined))).toContain('never assumed');
  });

  it.each([
    [{ specificGravity: '1.00' }, 'does not float'],
    [{ specificGravity: '1.46' }, 'does not float'],
    [{ specificGravity: '0.00' }, 'of no liquid'],
    [{ specificGravity: '-0.8' }, 'of no liquid'],
    [{ depthToProductFt: '9.09' }, 'does not float on it'],
    [{ depthToProductFt: '1e1' }, 'plain decimal'],
  ])('refuses %j', (part, reason) => {
    const given = { depthToProductFt: '8.75', depthToWaterFt: '9.08', specificGravity: '0.83', ...part };
    expect(why(productCorrection(given))).toContain(reason);
  });
});

describe('product in the formation', () => {
  // Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., p. 32, ex. 2.17.
  it('is 3 in where 75 in stand in the well', () => {
    expect(formationThicknessIn({ wellThicknessIn: 75, specificGravity: 0.8, capillaryFringeIn: 12 })).toBeCloseTo(
      3,
      9,
    );
  });

  it('is none where the fringe takes all, and never more than in the well', () => {
    expect(formationThicknessIn({ wellThicknessIn: 10, specificGravity: 0.8, capillaryFringeIn: 12 })).toBe(0);
    const size = fc.double({ min: 0, max: 200, noNaN: true });
    fc.assert(
      fc.property(size, fc.double({ min: 0.01, max: 0.99, noNaN: true }), size, (thickness, gravity, fringe) => {
        const found = formationThicknessIn({
          wellThicknessIn: thickness,
          specificGravity: gravity,
          capillaryFringeIn: fringe,
        });
        expect(Number(found)).toBeLessThanOrEqual(thickness);
      }),
    );
  });

  it.each([
    [{ specificGravity: 1 }, 'no floating liquid'],
    [{ specificGravity: Number.NaN }, 'no floating liquid'],
    [{ wellThicknessIn: -1 }, 'A thickness'],
    [{ capillaryFringeIn: -1 }, 'A capillary fringe'],
  ])('refuses %j', (part, reason) => {
    const given = { wellThicknessIn: 75, specificGravity: 0.8, capillaryFringeIn: 12, ...part };
    expect(why(formationThicknessIn(given))).toContain(reason);
  });
});
