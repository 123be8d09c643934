import { describe, expect, it } from 'vitest';
import { type OxygenBasis, oxygenSaturation } from '../../../src/science/oxygen/oxygen-saturation.ts';
import { standardPressureMmHg } from '../../../src/science/oxygen/standard-atmosphere.ts';
import { isRefusal } from '../../../src/science/refusal.ts';
import { convertUnit } from '../../../src/science/units/convert-unit.ts';

function mgPerL(temperatureC: number, salinity = 0, basis: OxygenBasis = 'benson-and-krause', pressureMmHg = 760) {
  const result = oxygenSaturation({ temperatureC, pressureMmHg, salinity, basis });
  if (isRefusal(result)) throw new Error(result.refused);
  return result.mgPerL;
}

/** Benson and Krause 1980 and 1984 from 0 to 30 °C at 1 atm in fresh water, computed apart from this code. */
const EQUATION =
  '14.621 14.216 13.830 13.461 13.108 12.771 12.448 12.139 11.843 11.560 11.288 11.027 10.777 10.537 10.306 10.084 9.870 9.665 9.467 9.276 9.092 8.915 8.744 8.578 8.418 8.263 8.114 7.968 7.828 7.691 7.559';
/** EN 25814 / ISO 5814 (read in a copy): what a gram of salt in a kilogram takes off, mg/L, 0 to 30 °C. */
const SALT =
  '0.0875 0.0843 0.0818 0.0789 0.0760 0.0739 0.0714 0.0693 0.0671 0.0650 0.0632 0.0614 0.0593 0.0582 0.0561 0.0545 0.0532 0.0514 0.0500 0.0489 0.0475 0.0464 0.0453 0.0443 0.0432 0.0421 0.0407 0.0400 0.0389 0.0382 0.0371';

describe('oxygen saturation', () => {
  it.each(EQUATION.split(' ').map((printed, celsius) => [celsius, printed] as const))(
    'at %d °C, 1 atm, fresh, is %s mg/L',
    (celsius, printed) => {
      expect(mgPerL(celsius).toFixed(3)).toBe(printed);
    },
  );

  // Standard Methods 4500-O, from memory.
  it('is 14.62, 12.77, 11.29, 10.08, 9.09, 8.26 and 7.56 mg/L at 0, 5 to 30 °C in Standard Methods', () => {
    const ours = [0, 5, 10, 15, 20, 25, 30].map((celsius) => mgPerL(celsius).toFixed(2));
    expect(ours).toEqual(['14.62', '12.77', '11.29', '10.08', '9.09', '8.26', '7.56']);
  });

  // EN 25814 / ISO 5814, read in a copy, which prints 12.5 at 6 °C and 12.2 at 7 °C.
  it('TRAP: at 6 °C is 12.4 and at 7 °C 12.1, not the 12.5 and 12.2 of a printed table', () => {
    expect(mgPerL(6).toFixed(1)).toBe('12.4');
    expect(mgPerL(7).toFixed(1)).toBe('12.1');
    expect(Math.abs(mgPerL(7) - 12.2)).toBeGreaterThan(0.05);
  });

  it('falls with salt from 0 to 40 by what EN 25814 takes off a gram, within 2 %: its line is drawn to the far end', () => {
    for (const [celsius, printed] of SALT.split(' ').entries()) {
      const slope = (mgPerL(celsius) - mgPerL(celsius, 40)) / 40;
      expect([celsius, Math.abs(slope / Number(printed) - 1) < 0.021]).toEqual([celsius, true]);
    }
  });

  // TEOS-10, GSW-C check values of oxygen solubility in µmol/kg, times 0.0319988 and the density of that water (EOS-80
  // at S 35: 1.02695 and 1.02334 kg/L, from memory).
  it.each([
    [10, 35, 274.5957, 1.02695],
    [25, 35, 206.7668, 1.02334],
    [10, 0, 352.8441, 0.9997026],
    [20, 0, 284.6253, 0.9982071],
    [25, 0, 258.9676, 0.9970479],
  ])('at %d °C and S %d agrees with %d µmol/kg of TEOS-10 within 0.03 %%', (celsius, salinity, micromoles, density) => {
    expect(Math.abs(mgPerL(celsius, salinity) / (micromoles * 0.0319988 * density) - 1)).toBeLessThan(3e-4);
  });

  // Garcia and Gordon 1992: 6.315 mL/L at 10 °C and S 35; 1.42905 mg a mL is the molar mass over the molar volume.
  it('at 10 °C and S 35 agrees with 6.315 mL/L of Garcia and Gordon within 0.1 %', () => {
    expect(Math.abs(mgPerL(10, 35) / (6.315 * 1.42905) - 1)).toBeLessThan(0.001);
  });

  // US Geological Survey memoranda 81.11 (8 May 1981) and 99.01 (1 Oct 1998) had the older basis, Weiss 1970.
  it.each([
    [0, '14.587', '14.621'],
    [20, '9.067', '9.092'],
    [25, '8.236', '8.263'],
  ])(
    'TRAP: at %d °C the tables before 2011 have %s, and the present equation %s mg/L: 0.2 to 0.4 %% apart',
    (celsius, old, now) => {
      expect(mgPerL(celsius, 0, 'weiss-usgs-1981').toFixed(3)).toBe(old);
      expect(mgPerL(celsius).toFixed(3)).toBe(now);
      const apart = Number(now) / Number(old) - 1;
      expect(apart).toBeGreaterThan(0.002);
      expect(apart).toBeLessThan(0.004);
    },
  );
});

describe('the standard atmosphere in kPa', () => {
  // ISO 2533, P = 101.325 (1 - 2.25577e-5 h)^5.25588, computed.
  it.each([
    [0, 101.33],
    [1_000, 97.72],
    [2_000, 94.21],
    [5_000, 84.31],
    [6_000, 81.2],
    [8_000, 75.26],
    [10_000, 69.68],
  ])('at %d ft is %d kPa', (feet, kPa) => {
    const mmHg = standardPressureMmHg(feet * 0.3048);
    if (isRefusal(mmHg)) throw new Error(mmHg.refused);
    expect(Math.abs((mmHg * 101.325) / 760 - kPa)).toBeLessThan(0.0055);
    expect(mmHg).toBeCloseTo(760 * (1 - 2.25577e-5 * feet * 0.3048) ** 5.25588, 2);
  });

  // Exact by definition, but for conventional mercury (NIST SP 811).
  it.each([
    ['1', 'atm', 'kPa', 101.325],
    ['1', 'atm', 'mm[Hg]', 760],
    ['1', "[in_i'Hg]", 'mm[Hg]', 25.4],
    ['1', '[psi]', 'kPa', 6.894757],
    ['1', 'atm', '[psi]', 14.6959],
  ])('%s %s is in %s %d', (value, from, to, expected) => {
    const converted = convertUnit(value, from, to);
    if (isRefusal(converted)) throw new Error(converted.refused);
    const exact = Number(converted.exact.over) / Number(converted.exact.under);
    expect(Math.abs(exact / expected - 1)).toBeLessThan(4e-6);
  });
});
