import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { freshWaterSolubilityMgPerL } from '../../../src/science/oxygen/fresh-water-solubility.ts';
import { OXYGEN_BASES, type OxygenGiven, oxygenSaturation } from '../../../src/science/oxygen/oxygen-saturation.ts';
import { percentSaturation } from '../../../src/science/oxygen/percent-saturation.ts';
import { pressureFactor } from '../../../src/science/oxygen/pressure-factor.ts';
import { salinityFactor } from '../../../src/science/oxygen/salinity-factor.ts';
import { salinityOfConductance } from '../../../src/science/oxygen/salinity-of-conductance.ts';
import { waterVapourAtm } from '../../../src/science/oxygen/water-vapour.ts';
import { weissSolubilityMlPerL } from '../../../src/science/oxygen/weiss-solubility.ts';
import { isRefusal } from '../../../src/science/refusal.ts';
import { gswSalinity, gswSaturation } from './gsw-oracle.ts';

const given: OxygenGiven = { temperatureC: 20, pressureMmHg: 760, salinity: 0, basis: 'benson-and-krause' };
const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

function number<T>(result: T): Exclude<T, { refused: string }> {
  if (isRefusal(result)) throw new Error(result.refused);
  return result as Exclude<T, { refused: string }>;
}

function mgPerL(part: Partial<OxygenGiven>): number {
  return number(oxygenSaturation({ ...given, ...part })).mgPerL;
}

/** EN 25814 / ISO 5814, table of saturation in fresh water at 1 atm (read in a copy), 0 to 30 °C. */
const TABLE =
  '14.6 14.2 13.8 13.5 13.1 12.8 12.5 12.2 11.8 11.6 11.3 11.0 10.8 10.5 10.3 10.1 9.87 9.66 9.47 9.28 9.09 8.91 8.74 8.58 8.42 8.26 8.11 7.97 7.83 7.69 7.56'.split(
    ' ',
  );

function places(text: string): number {
  return text.split('.')[1]?.length ?? 0;
}

describe('saturation in fresh water at 1 atm', () => {
  // Benson and Krause 1980 and 1984, computed.
  it.each([
    [0, 14.621],
    [5, 12.771],
    [10, 11.288],
    [15, 10.084],
    [20, 9.092],
    [25, 8.263],
    [30, 7.559],
  ])('at %s °C is %s mg/L, as Standard Methods 4500-O prints to two places', (celsius, mg) => {
    expect(mgPerL({ temperatureC: celsius })).toBeCloseTo(mg, 3);
  });

  it('agrees with the table of EN 25814 to its printed digits, but for a misprint, a tie and one rounded twice', () => {
    const differ = TABLE.flatMap((printed, celsius) =>
      mgPerL({ temperatureC: celsius }).toFixed(places(printed)) === printed ? [] : [celsius],
    );
    expect(differ).toEqual([6, 7, 21]);
    // 12.448 is 12.45 to two places, and that is 12.5 to one: the table was rounded twice there.
    expect(mgPerL({ temperatureC: 6 })).toBeCloseTo(12.448, 3);
    // 12.2 at 7 °C is a misprint of the copy.
    expect(mgPerL({ temperatureC: 7 })).toBeCloseTo(12.139, 3);
    expect(mgPerL({ temperatureC: 7 }).toFixed(1)).toBe('12.1');
    // 8.91501 is a near-tie with the printed 8.91.
    expect(mgPerL({ temperatureC: 21 })).toBeCloseTo(8.91501, 5);
  });

  it('is never 0.01 mg/L from the printed two places', () => {
    for (const [celsius, printed] of TABLE.entries())
      if (places(printed) === 2)
        expect(Math.abs(mgPerL({ temperatureC: celsius }) - Number(printed))).toBeLessThan(0.01);
  });

  // A package of the US Geological Survey tests 8.914559 at 21 °C and 1013.25 mb to 1e-4; it differs by another vapour.
  it('agrees with a published program at 21 °C within 0.001 mg/L', () => {
    expect(Math.abs(mgPerL({ temperatureC: 21 }) - 8.914559)).toBeLessThan(0.001);
  });
});

describe('pressure', () => {
  // Computed from Benson and Krause.
  it.each([
    [5, [10.061, 10.739, 11.416, 11.755, 12.094, 12.432, 12.771, 13.11]],
    [10, [8.884, 9.485, 10.086, 10.387, 10.687, 10.987, 11.288, 11.588]],
    [15, [7.926, 8.465, 9.005, 9.275, 9.544, 9.814, 10.084, 10.354]],
    [20, [7.134, 7.624, 8.113, 8.358, 8.603, 8.848, 9.092, 9.337]],
    [25, [6.469, 6.917, 7.366, 7.59, 7.815, 8.039, 8.263, 8.488]],
  ])('at %s °C from 600 to 780 mmHg', (celsius, row) => {
    const pressures = [600, 640, 680, 700, 720, 740, 760, 780];
    for (const [at, expected] of row.entries())
      expect(Math.abs(mgPerL({ temperatureC: celsius, pressureMmHg: pressures[at] ?? 0 }) - expected)).toBeLessThan(
        6e-4,
      );
  });

  it('is no mere scaling: P/760 gives 7.477 for 7.440 mg/L at 20 °C and 625 mmHg, half a percent too much', () => {
    const right = mgPerL({ pressureMmHg: 625 });
    const cheap = (mgPerL({}) * 625) / 760;
    expect(right).toBeCloseTo(7.44, 3);
    expect(cheap).toBeCloseTo(7.477, 3);
    expect(cheap / right - 1).toBeGreaterThan(0.0045);
  });

  // Second way: the vapour pressure of Green and Carritt 1967, which another implementation uses.
  it('agrees with another vapour pressure within 0.0003 mg/L from 600 to 780 mmHg', () => {
    const greenAndCarritt = (celsius: number) => {
      const part = 373.16 / (celsius + 273.15);
      return Math.exp(
        18.1973 * (1 - part) +
          3.1813e-7 * (1 - Math.exp(26.1205 * (1 - 1 / part))) -
          0.018726 * (1 - Math.exp(8.03945 * (1 - part))) +
          5.02802 * Math.log(part),
      );
    };
    for (let celsius = 0; celsius <= 30; celsius += 1)
      for (const pressure of [600, 680, 780]) {
        const [p, u] = [pressure / 760, greenAndCarritt(celsius)];
        const th = 0.000975 - 1.426e-5 * celsius + 6.436e-8 * celsius ** 2;
        const other = (mgPerL({ temperatureC: celsius }) * ((p - u) * (1 - th * p))) / ((1 - u) * (1 - th));
        expect(Math.abs(mgPerL({ temperatureC: celsius, pressureMmHg: pressure }) - other)).toBeLessThan(3.5e-4);
      }
  });

  it('is 1 at 1 atm, whatever the temperature', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 40, noNaN: true }), (celsius) => {
        expect(pressureFactor(celsius, 760)).toBeCloseTo(1, 12);
      }),
    );
  });
});

describe('salinity', () => {
  // Computed from Benson and Krause.
  it.each([
    [5, [12.771, 12.686, 12.351, 12.026, 11.174, 10.108]],
    [10, [11.288, 11.216, 10.933, 10.657, 9.933, 9.024]],
    [15, [10.084, 10.022, 9.779, 9.542, 8.919, 8.135]],
    [20, [9.092, 9.039, 8.828, 8.622, 8.08, 7.396]],
    [25, [8.263, 8.217, 8.032, 7.851, 7.375, 6.772]],
  ])('at %s °C from 0 to 35', (celsius, row) => {
    const salinities = [0, 1, 5, 9, 20, 35];
    for (const [at, expected] of row.entries())
      expect(Math.abs(mgPerL({ temperatureC: celsius, salinity: salinities[at] ?? 0 }) - expected)).toBeLessThan(6e-4);
  });

  it('differs a little from the linear correction of EN 25814: 8.66 for 8.622 at 20 °C and S 9', () => {
    expect(9.09 - 9 * 0.0475 - mgPerL({ salinity: 9 })).toBeCloseTo(0.04, 2);
  });

  // A respirometry package: 10 % is 0.67511 mg/L at 25 °C, S 35, 1.013253 bar; another family of solubility.
  it('agrees with another family within 0.4 %', () => {
    const own = mgPerL({ temperatureC: 25, salinity: 35, pressureMmHg: (760 * 1.013253) / 1.01325 });
    expect(Math.abs(own / 6.7511 - 1)).toBeLessThan(0.004);
  });

  it('from conductance is 0.559, 5.774 and 32.91 at 1,000, 10,000 and 50,000 µS/cm', () => {
    expect(salinityOfConductance(1_000)).toBeCloseTo(0.559, 3);
    expect(salinityOfConductance(10_000)).toBeCloseTo(5.774, 3);
    expect(salinityOfConductance(50_000)).toBeCloseTo(32.91, 2);
  });
});

describe('independent oracles', () => {
  // Garcia and Gordon 1992, Limnology and Oceanography 37, 1307-1312: 274.610 µmol/kg at 10 °C, S 35 (published check).
  it('agrees with the published check value of Garcia and Gordon at 10 °C, S 35 within 0.1 %', () => {
    const densityKgPerL = 1.026952;
    const theirs = 274.61 * 0.0319988 * densityKgPerL;
    expect(Math.abs(mgPerL({ temperatureC: 10, salinity: 35 }) / theirs - 1)).toBeLessThan(0.001);
  });

  // TEOS-10 check values (GSW-C), µmol/kg times 0.0319988 times the density of fresh water.
  it.each([
    [10, 11.287],
    [20, 9.091],
    [25, 8.262],
  ])('agrees with TEOS-10 in fresh water of %s °C', (celsius, theirs) => {
    expect(Math.abs(mgPerL({ temperatureC: celsius }) - theirs)).toBeLessThan(0.002);
  });

  it('agrees with the TEOS-10 library over 0 to 40 °C and S 0 to 40 within 0.3 %', (context) => {
    const grid = [0, 2, 5, 10, 15, 20, 25, 30, 35, 40].flatMap((celsius) =>
      [0, 1, 10, 20, 35, 40].map((salinity) => [celsius, salinity] as const),
    );
    const theirs = gswSaturation(grid);
    if (theirs === null) return context.skip('the library python3-gsw is not installed');
    for (const [at, [temperatureC, salinity]] of grid.entries())
      expect(Math.abs(mgPerL({ temperatureC, salinity }) / (theirs[at] ?? 0) - 1)).toBeLessThan(0.003);
  });

  it('has a salinity that moves oxygen by less than 0.01 mg/L from that of the practical scale', (context) => {
    const conductances = [100, 500, 1_000, 2_000, 5_000, 10_000, 30_000, 50_000];
    const theirs = gswSalinity(conductances);
    if (theirs === null) return context.skip('the library python3-gsw is not installed');
    for (const [at, conductance] of conductances.entries()) {
      const own = mgPerL({ salinity: number(salinityOfConductance(conductance)) });
      expect(Math.abs(own - mgPerL({ salinity: theirs[at] ?? 0 }))).toBeLessThan(0.01);
    }
  });
});

describe('the older basis', () => {
  // US Geological Survey, memoranda 81.11 and 99.01: Weiss 1970 with 1.4276 mg/mL; 2011.03 says that it was incorrect.
  it.each([
    [0, 14.587],
    [20, 9.067],
    [25, 8.236],
  ])('at %s °C was %s mg/L in the tables until 2011', (celsius, mg) => {
    expect(mgPerL({ temperatureC: celsius, basis: 'weiss-usgs-1981' })).toBeCloseTo(mg, 2);
    expect(Math.abs(mgPerL({ temperatureC: celsius, basis: 'weiss-usgs-1981' }) - mg)).toBeLessThan(0.001);
  });

  it('is 0.1 to 0.4 % below the present one, and its own factor makes a third of that', () => {
    for (let celsius = 0; celsius <= 30; celsius += 1) {
      const now = mgPerL({ temperatureC: celsius });
      const old = mgPerL({ temperatureC: celsius, basis: 'weiss-usgs-1981' });
      const mended = mgPerL({ temperatureC: celsius, basis: 'weiss' });
      expect(1 - old / now).toBeGreaterThan(0.001);
      expect(1 - old / now).toBeLessThan(0.004);
      expect(mended / old).toBeCloseTo(1.42905 / 1.4276, 9);
      expect(mended).toBeGreaterThan(old);
    }
  });

  it('corrects for pressure by the dry air alone', () => {
    const u = waterVapourAtm(20);
    const ratio = mgPerL({ pressureMmHg: 608, basis: 'weiss' }) / mgPerL({ basis: 'weiss' });
    expect(ratio).toBeCloseTo((0.8 - u) / (1 - u), 12);
  });
});

describe('what every family has in common', () => {
  const anyBasis = fc.constantFrom(...OXYGEN_BASES);
  const celsius = fc.double({ min: 0, max: 39, noNaN: true });
  const pressure = fc.double({ min: 380, max: 830, noNaN: true });
  const salinity = fc.double({ min: 0, max: 39, noNaN: true });

  it('less oxygen in warmer water, in saltier water and higher up', () => {
    fc.assert(
      fc.property(anyBasis, celsius, pressure, salinity, (basis, temperatureC, pressureMmHg, s) => {
        const at = { basis, temperatureC, pressureMmHg, salinity: s };
        expect(mgPerL({ ...at, temperatureC: temperatureC + 1 })).toBeLessThan(mgPerL(at));
        expect(mgPerL({ ...at, salinity: s + 1 })).toBeLessThan(mgPerL(at));
        expect(mgPerL({ ...at, pressureMmHg: pressureMmHg + 5 })).toBeGreaterThan(mgPerL(at));
      }),
    );
  });

  it('corrections multiply: each is the same whatever the others are', () => {
    fc.assert(
      fc.property(celsius, pressure, salinity, (temperatureC, pressureMmHg, s) => {
        const product =
          number(freshWaterSolubilityMgPerL(temperatureC)) *
          number(salinityFactor(temperatureC, s)) *
          number(pressureFactor(temperatureC, pressureMmHg));
        expect(mgPerL({ temperatureC, pressureMmHg, salinity: s })).toBeCloseTo(product, 12);
      }),
    );
  });

  it('percent saturation has two meanings, which agree at 1 atm only', () => {
    const high = number(oxygenSaturation({ ...given, pressureMmHg: 632.4 }));
    const full = number(percentSaturation(high.mgPerL, high));
    expect(full.ofLocalPercent).toBeCloseTo(100, 9);
    expect(full.ofOneAtmPercent).toBeCloseTo(82.8, 1);
    const low = number(oxygenSaturation(given));
    const both = number(percentSaturation(4.5, low));
    expect(both.ofLocalPercent).toBeCloseTo(both.ofOneAtmPercent, 9);
  });

  it.each([
    [oxygenSaturation({ ...given, temperatureC: -1 }), '-1 °C'],
    [oxygenSaturation({ ...given, temperatureC: Number.NaN }), 'NaN °C'],
    [oxygenSaturation({ ...given, salinity: 41 }), 'salinity of 41'],
    [oxygenSaturation({ ...given, pressureMmHg: 1013 }), '1013 mmHg is outside'],
    [oxygenSaturation({ ...given, pressureMmHg: 29.92 }), 'in the unit of its name'],
    [oxygenSaturation({ ...given, temperatureC: 41, basis: 'weiss' }), '41 °C'],
    [oxygenSaturation({ ...given, salinity: -1, basis: 'weiss' }), 'salinity of -1'],
    [oxygenSaturation({ ...given, pressureMmHg: 300, basis: 'weiss-usgs-1981' }), '300 mmHg'],
    [weissSolubilityMlPerL(20, 41), 'salinity of 41'],
    [salinityFactor(41, 0), '41 °C'],
    [pressureFactor(-1, 760), '-1 °C'],
    [salinityOfConductance(60_000), 'outside 0 to 59,000'],
    [salinityOfConductance(-1), '-1 µS/cm'],
    [percentSaturation(-0.1, { mgPerL: 9, atOneAtmMgPerL: 9 }), '-0.1 mg/L'],
    [percentSaturation(1_000, { mgPerL: 9, atOneAtmMgPerL: 9 }), '1000 mg/L'],
  ])('refuses what it cannot know: %#', (result, says) => {
    expect(why(result)).toContain(says);
  });
});
