import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';
import { casingVolume, diameterMisjudges } from '../../../src/science/well/casing-volume.ts';
import { packVolume } from '../../../src/science/well/pack-volume.ts';
import { waterColumnFt } from '../../../src/science/well/water-column.ts';
import type { WaterVolume } from '../../../src/science/well/water-volume.ts';

function given<T extends object | number | string>(result: T | Refusal): T {
  if (isRefusal(result)) throw new Error(result.refused);
  return result;
}
const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');
const gallons = (insideDiameterIn: number, waterColumnFt: number) =>
  given<WaterVolume>(casingVolume({ insideDiameterIn, waterColumnFt })).usGallons;

describe('casing', () => {
  // Computed from V = pi D^2 / 4: US gallons a foot.
  it.each([
    [0.75, 0.0229],
    [1, 0.0408],
    [1.25, 0.0637],
    [1.5, 0.0918],
    [2, 0.1632],
    [2.067, 0.1743],
    [3, 0.3672],
    [3.068, 0.384],
    [4, 0.6528],
    [4.026, 0.6613],
    [5, 1.02],
    [6, 1.4688],
    [6.065, 1.5008],
    [8, 2.6112],
    [10, 4.08],
    [12, 5.8752],
  ])('of %s in holds %s gal a foot', (diameter, expected) => {
    expect(gallons(diameter, 1)).toBeCloseTo(expected, 4);
  });

  // County file, doc 445163, page 47: the table prints 0.563 for 4 in; the formula beside it, 5.875 C^2 H, gives 0.653.
  it('of 4 in holds 0.653 gal a foot, not the 0.563 of a printed table', () => {
    expect(gallons(4, 1)).toBeCloseTo(0.653, 3);
    expect(Math.abs(gallons(4, 1) - 0.563)).toBeGreaterThan(0.08);
    expect(gallons(4, 1)).toBeCloseTo(5.875 * (4 / 12) ** 2, 3);
  });

  // The other figures of that table, and of a state file, doc 1026119, page 33, Table 2-1 (2013).
  it.each([
    [1.5, 0.092, 3],
    [2, 0.163, 3],
    [6, 1.469, 3],
    [2, 0.16, 2],
    [4, 0.65, 2],
    [6, 1.47, 2],
    [8, 2.61, 2],
    // County file, doc 547934, page 22: actual inside diameters of schedule 40.
    [2.067, 0.17, 2],
    [4.026, 0.66, 2],
  ])('of %s in agrees with the printed %s gal/ft to %s places', (diameter, printed, places) => {
    expect(gallons(diameter, 1).toFixed(places)).toBe(printed.toFixed(places));
  });

  // State file, doc 1026119, page 33: 80 ft x 0.16 = 12.80 gal. Computed: 13.06, and 13.95 in 2.067 in, 9 % more.
  it('of 2 in and 80 ft holds 13.06 gal, where rounded factors print 12.80 and schedule 40 has 13.95', () => {
    expect(gallons(2, 80)).toBeCloseTo(13.06, 2);
    expect(gallons(2.067, 80)).toBeCloseTo(13.95, 2);
    expect(gallons(2.067, 80) / 12.8).toBeCloseTo(1.09, 2);
  });

  it('gives one volume in all units', () => {
    const volume = given<WaterVolume>(casingVolume({ insideDiameterIn: 4, waterColumnFt: 10 }));
    expect(volume.litres).toBeCloseTo(8.1073 * 3.048, 3);
    expect(volume.ml).toBe(volume.litres * 1_000);
    expect(volume.cubicFeet * 7.480519).toBeCloseTo(volume.usGallons, 5);
  });

  it('grows with the square of the diameter and in step with the column', () => {
    const size = fc.double({ min: 0.1, max: 20, noNaN: true });
    fc.assert(
      fc.property(size, fc.double({ min: 0, max: 900, noNaN: true }), size, (diameter, column, times) => {
        expect(gallons(diameter * times, column)).toBeCloseTo(gallons(diameter, column) * times ** 2, 3);
        expect(gallons(diameter, column * times)).toBeCloseTo(gallons(diameter, column) * times, 3);
      }),
    );
  });

  it('refuses no diameter', () => {
    expect(why(casingVolume({ insideDiameterIn: 0, waterColumnFt: 1 }))).toContain('holds nothing');
  });

  it('misjudges a volume by the square of the wrong diameter', () => {
    expect(given<number>(diameterMisjudges(2, 2.067))).toBeCloseTo(-0.0638, 4);
    expect(given<number>(diameterMisjudges(0.25, 0.17))).toBeCloseTo(1.1626, 4);
    expect(given<number>(diameterMisjudges(2, 2))).toBe(0);
    expect(why(diameterMisjudges(0, 2))).toContain('holds nothing');
    expect(why(diameterMisjudges(2, Number.NaN))).toContain('holds nothing');
  });
});

describe('wells of county file, doc 581018, page 11, Table A-2 (June 1993)', () => {
  it.each([
    ['64.52', '49.90', '14.62', 28.5],
    ['62.66', '48.06', '14.60', 28.5],
    ['59.00', '49.13', '9.87', 19.2],
  ])('%s ft deep with water at %s ft: column %s ft, three volumes of 4-in casing', (depth, water, column, printed) => {
    expect(waterColumnFt({ depthToBottomFt: depth, depthToWaterFt: water })).toBe(column);
    // Printed with the rounded 0.65 gal/ft; the exact 4.00 in is 0.4 % more.
    expect(3 * Number(column) * 0.65).toBeCloseTo(printed, 0);
    expect((3 * gallons(4, Number(column))) / printed).toBeGreaterThan(1);
    expect((3 * gallons(4, Number(column))) / printed).toBeLessThan(1.01);
  });

  it('computes 28.63, 28.59 and 19.33 gal exactly', () => {
    expect([14.62, 14.6, 9.87].map((column) => (3 * gallons(4, column)).toFixed(2))).toEqual([
      '28.63',
      '28.59',
      '19.33',
    ]);
  });
});

describe('water column', () => {
  it('is 0 in a dry well, longer above a flowing one, and refused below the bottom', () => {
    expect(waterColumnFt({ depthToBottomFt: '30.0', depthToWaterFt: '30.00' })).toBe('0.00');
    expect(waterColumnFt({ depthToBottomFt: '30.0', depthToWaterFt: '-1.25' })).toBe('31.25');
    expect(why(waterColumnFt({ depthToBottomFt: '30.0', depthToWaterFt: '30.01' }))).toContain('below the bottom');
    expect(why(waterColumnFt({ depthToBottomFt: '30,0', depthToWaterFt: '30' }))).toBe(
      'depthToBottomFt "30,0" is no plain decimal: give one such as "14.62".',
    );
  });
});

describe('filter pack', () => {
  // Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., p. 40, ex. 2.23.
  it("is Kuo's: 1.265 and 2.657 cubic feet, 3.92 together, three times 88 gal", () => {
    const casing = given<WaterVolume>(casingVolume({ insideDiameterIn: 4, waterColumnFt: 14.5 }));
    const pack = given<WaterVolume>(
      packVolume({ boreholeDiameterIn: 10, casingOutsideDiameterIn: 4, saturatedPackFt: 14.5, porosity: 0.4 }),
    );
    expect(casing.cubicFeet).toBeCloseTo(1.265, 3);
    expect(pack.cubicFeet).toBeCloseTo(2.657, 3);
    expect((casing.cubicFeet + pack.cubicFeet).toFixed(2)).toBe('3.92');
    expect((3 * (casing.cubicFeet + pack.cubicFeet)).toFixed(1)).toBe('11.8');
    expect(3 * (casing.usGallons + pack.usGallons)).toBeCloseTo(88.03, 1);
  });

  it('is what a borehole of shells adds up to', () => {
    const inside = given<WaterVolume>(casingVolume({ insideDiameterIn: 4.5, waterColumnFt: 10 }));
    const hole = given<WaterVolume>(casingVolume({ insideDiameterIn: 8, waterColumnFt: 10 }));
    const pack = packVolume({
      boreholeDiameterIn: 8,
      casingOutsideDiameterIn: 4.5,
      saturatedPackFt: 10,
      porosity: 0.3,
    });
    expect(given<WaterVolume>(pack).ml).toBeCloseTo(0.3 * (hole.ml - inside.ml), 6);
  });

  it.each([
    [{ porosity: 0 }, 'no share of pores'],
    [{ porosity: 1 }, 'no share of pores'],
    [{ porosity: Number.NaN }, 'no share of pores'],
    [{ boreholeDiameterIn: 4 }, 'has no room'],
    [{ boreholeDiameterIn: Number.POSITIVE_INFINITY }, 'has no room'],
    [{ saturatedPackFt: -1 }, 'no length'],
    [{ casingOutsideDiameterIn: 0 }, 'holds nothing'],
  ])('refuses %j', (part, reason) => {
    const whole = { boreholeDiameterIn: 10, casingOutsideDiameterIn: 4, saturatedPackFt: 14.5, porosity: 0.4 };
    expect(why(packVolume({ ...whole, ...part }))).toContain(reason);
  });
});
