import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { NATURAL_WATER_FACTORS } from '../../../src/catalog/standards/natural-water-factors.ts';
import { rawConductivityUsPerCm, specificConductanceUsPerCm } from '../../../src/science/conductance/compensate.ts';
import { linearFactor } from '../../../src/science/conductance/linear-factor.ts';
import { naturalWaterFactor } from '../../../src/science/conductance/natural-water-factor.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');
const table = new Map(NATURAL_WATER_FACTORS.points.map(([celsius, factor]) => [Number(celsius), Number(factor)]));

describe('linear factors', () => {
  // Computed.
  it.each([
    [0.0191, 0, 1.914],
    [0.02, 0, 2.0],
    [0.0191, 5, 1.618],
    [0.02, 5, 1.667],
    [0.0191, 30, 0.913],
    [0.02, 30, 0.909],
    [0.0191, 25, 1],
  ])('with %s per °C at %s °C is %s', (alpha, celsius, factor) => {
    expect(linearFactor(alpha, celsius)).toBeCloseTo(factor, 3);
  });

  it.each([
    [2, 10, 'coefficient of 2 per °C'],
    [0.005, 10, 'coefficient of 0.005'],
    [0.02, -1, '-1 °C'],
    [0.02, 41, '41 °C'],
    [Number.NaN, 10, 'coefficient of NaN'],
  ])('refuses alpha %s at %s °C', (alpha, celsius, says) => {
    expect(why(linearFactor(alpha, celsius))).toContain(says);
  });
});

describe('the factor for natural water in closed form', () => {
  it('agrees with the table of ISO 7888 within 0.0015 from 5 to 35 °C', () => {
    for (let celsius = 5; celsius <= 35; celsius += 1)
      expect(Math.abs(Number(naturalWaterFactor(celsius)) - (table.get(celsius) ?? 0))).toBeLessThan(0.0015);
  });

  it('is not offered below 5 °C, where it would be up to 0.008 low, nor above 35.9 °C', () => {
    for (const celsius of [0, 4.9, 36, Number.NaN]) expect(why(naturalWaterFactor(celsius))).toContain('5 to 35.9');
    expect(isRefusal(naturalWaterFactor(35.9))).toBe(false);
  });

  it('falls with temperature and is 1 at 25 °C', () => {
    expect(naturalWaterFactor(25)).toBeCloseTo(1, 6);
    fc.assert(
      fc.property(fc.double({ min: 5, max: 35.4, noNaN: true }), (celsius) => {
        expect(naturalWaterFactor(celsius + 0.5)).toBeLessThan(Number(naturalWaterFactor(celsius)));
      }),
    );
  });
});

describe('there and back', () => {
  it('500 µS/cm raw at 10 °C is 700.8 by 1.91 % per °C and 714.3 by 2 %', () => {
    expect(specificConductanceUsPerCm(500, Number(linearFactor(0.0191, 10)))).toBeCloseTo(700.8, 1);
    expect(specificConductanceUsPerCm(500, Number(linearFactor(0.02, 10)))).toBeCloseTo(714.3, 1);
  });

  it('the way back gives what was measured', () => {
    const conductivity = fc.double({ min: 0, max: 60_000, noNaN: true });
    fc.assert(
      fc.property(conductivity, fc.double({ min: 0.5, max: 2, noNaN: true }), (raw, factor) => {
        const at25 = Number(specificConductanceUsPerCm(raw, factor));
        expect(Number(rawConductivityUsPerCm(at25, factor))).toBeCloseTo(raw, 6);
      }),
    );
  });

  it.each([
    [specificConductanceUsPerCm(-1, 1), 'conductivity of -1'],
    [specificConductanceUsPerCm(Number.POSITIVE_INFINITY, 1), 'conductivity of Infinity'],
    [specificConductanceUsPerCm(1, 0), 'factor of 0'],
    [rawConductivityUsPerCm(Number.NaN, 1), 'conductivity of NaN'],
    [rawConductivityUsPerCm(1, Number.NaN), 'factor of NaN'],
    [rawConductivityUsPerCm(1, Number.POSITIVE_INFINITY), 'factor of Infinity'],
  ])('refuses what is no conductivity or no factor: %#', (result, says) => {
    expect(why(result)).toContain(says);
  });
});
