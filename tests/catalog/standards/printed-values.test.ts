import { describe, expect, it } from 'vitest';
import { atTemperature } from '../../../src/catalog/standards/at-temperature.ts';
import { ZOBELL_WITH_4_MOLAR } from '../../../src/catalog/standards/check-solution-table.ts';
import { conductivityStandardAt } from '../../../src/catalog/standards/conductivity-standards.ts';
import { NATURAL_WATER_FACTORS } from '../../../src/catalog/standards/natural-water-factors.ts';
import { PH_BUFFERS, type PhBufferId } from '../../../src/catalog/standards/ph-buffers.ts';
import {
  POTASSIUM_CHLORIDE_1_MOLAL,
  POTASSIUM_CHLORIDE_01_MOLAL,
  POTASSIUM_CHLORIDE_001_MOLAL,
} from '../../../src/catalog/standards/potassium-chloride.ts';
import {
  REFERENCE_ELECTRODES,
  type ReferenceElectrodeId,
} from '../../../src/catalog/standards/reference-electrodes.ts';
import type { StandardTable } from '../../../src/catalog/standards/standard-table.ts';
import { ZOBELL_STANDARD_METHODS } from '../../../src/catalog/standards/zobell-tables.ts';
import { linearFactor } from '../../../src/science/conductance/linear-factor.ts';
import { ehMv } from '../../../src/science/orp/eh.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

/** Read row by row, as the sources print them; the catalog holds its tables column by column. */
function rows(print: string): readonly (readonly string[])[] {
  return print
    .trim()
    .split('\n')
    .map((row) => row.trim().split(/\s+/));
}

function at(table: StandardTable, celsius: string): string {
  const value = atTemperature(table, celsius);
  if (isRefusal(value)) throw new Error(value.refused);
  return value.text;
}

/** Rows that begin with a temperature, one table a column; "-" where the source prints nothing. */
function expectRows(print: string, tables: readonly StandardTable[]) {
  for (const [celsius = '', ...values] of rows(print)) {
    expect(values).toHaveLength(tables.length);
    for (const [column, value] of values.entries())
      if (value !== '-') expect([celsius, at(tables[column] as StandardTable, celsius)]).toEqual([celsius, value]);
  }
}

describe('conductivity', () => {
  it('factors of ISO 7888 / EN 27888 (read in a copy), 0 to 35 °C, six columns of six', () => {
    const printed = rows(`
      0 1.918  6 1.596  12 1.354  18 1.168  24 1.021  30 0.903
      1 1.857  7 1.551  13 1.320  19 1.141  25 1.000  31 0.886
      2 1.800  8 1.508  14 1.287  20 1.116  26 0.979  32 0.869
      3 1.745  9 1.467  15 1.256  21 1.091  27 0.959  33 0.853
      4 1.693 10 1.428  16 1.225  22 1.067  28 0.940  34 0.837
      5 1.643 11 1.390  17 1.196  23 1.044  29 0.921  35 0.822`).flat();
    expect(printed).toHaveLength(72);
    for (let pair = 0; pair < printed.length; pair += 2)
      expect([printed[pair], at(NATURAL_WATER_FACTORS, printed[pair] ?? '')]).toEqual(printed.slice(pair, pair + 2));
  });

  // Computed beside ISO 7888: the choice of method at 0, 5 and 30 °C.
  it.each([
    [0, 1.914, 2.0, '1.918'],
    [5, 1.618, 1.667, '1.643'],
    [30, 0.913, 0.909, '0.903'],
  ])('the three methods at %d °C are %d, %d and %s', (celsius, standardMethods, twoPercent, iso) => {
    expect(linearFactor(0.0191, celsius)).toBeCloseTo(standardMethods, 3);
    expect(linearFactor(0.02, celsius)).toBeCloseTo(twoPercent, 3);
    expect(at(NATURAL_WATER_FACTORS, String(celsius))).toBe(iso);
  });

  it('a reference of 20 °C divides by 1.116 (ISO 7888, read in a copy): 1.354 at 12 °C becomes 1.213', () => {
    expect(at(NATURAL_WATER_FACTORS, '20')).toBe('1.116');
    expect(1.354 / Number(at(NATURAL_WATER_FACTORS, '20'))).toBeCloseTo(1.213, 3);
  });

  // NIST values for potassium chloride, ITS-90, molal, as printed in the CRC Handbook: 0.01, 0.1 and 1 mol/kg.
  it('of potassium chloride by the kilogram from 0 to 35 °C', () => {
    expectRows(
      ` 0  772.92  7116.85  63488
        5  890.96  8183.70  72030
       10 1013.95  9291.72  80844
       15 1141.45 10437.1   89900
       18 1219.93 11140.6   -
       20 1273.03 11615.9   99170
       25 1408.23 12824.6  108620
       30 1546.63 14059.2  118240
       35 1687.79 15316.0  127970`,
      [POTASSIUM_CHLORIDE_001_MOLAL, POTASSIUM_CHLORIDE_01_MOLAL, POTASSIUM_CHLORIDE_1_MOLAL],
    );
  });

  it('TRAP: 1,667 at 35 °C is the course of no 1413 standard: it would be 1.65 % per °C above 25', () => {
    const ours = conductivityStandardAt('bottled-1413', '35');
    expect(isRefusal(ours) ? ours.refused : ours.text).toBe('1694');
    const perDegree = (value: number) => (100 * (value / 1413 - 1)) / 10;
    expect(perDegree(1694)).toBeCloseTo(1.99, 2);
    expect(perDegree(1667)).toBeLessThan(1.87);
  });
});

describe('pH buffers, 0 to 40 °C', () => {
  const columns = (ids: readonly PhBufferId[]) => ids.map((id) => PH_BUFFERS[id]);

  // JIS Z 8802, columns 1 to 4, and a commercial set, columns 5 and 6: read in copies.
  it('as printed', () => {
    expectRows(
      ` 0 4.01 6.98 9.46 10.32 7.12 4.00
        5 4.01 6.95 9.39 10.25 7.09 4.00
       10 4.00 6.92 9.33 10.18 7.06 4.00
       15 4.00 6.90 9.27 10.12 7.04 4.00
       20 4.00 6.88 9.22 10.07 7.02 4.00
       25 4.01 6.86 9.18 10.02 7.00 4.00
       30 4.01 6.85 9.14  9.97 6.99 4.01
       35 4.02 6.84 9.10  9.93 6.99 4.02
       40 4.03 6.84 9.07  -    6.98 4.03`,
      columns(['phthalate-401', 'phosphate-686', 'borax-918', 'carbonate-1001', 'technical-700', 'technical-400']),
    );
  });

  it('the technical 10.01 is 10.06, 10.01 and 9.89 at 20, 25 and 40 °C (read in a copy)', () => {
    expectRows('20 10.06\n25 10.01\n40 9.89', columns(['technical-1001']));
  });
});

describe('ORP', () => {
  const electrodes = (ids: readonly ReferenceElectrodeId[]) => ids.map((id) => REFERENCE_ELECTRODES[id]);

  it('of ZoBell by Standard Methods 2580 (read in a copy), every degree from 1 to 30 °C', () => {
    const printed = rows(
      `481 479 476 474 472 470 468 465 463 461 459 457 454 452 450 448 446 443 441 439 437 435 432 430 428 426 424 421 419 417`,
    ).flat();
    expect(printed.map((_, degree) => at(ZOBELL_STANDARD_METHODS, String(degree + 1)))).toEqual(printed);
  });

  // US Geological Survey, National Field Manual 6.5, table 6.5-2, from memory: 3, 3.3, 3.5 mol/L and saturated.
  it('of silver chloride against hydrogen, with the liquid junction', () => {
    expectRows(
      `10 220 217 215 214
       15 216 214 212 209
       20 213 210 208 204
       25 209 207 205 199
       30 205 203 201 194`,
      electrodes([
        'silver-chloride-3-molar',
        'silver-chloride-3-3-molar',
        'silver-chloride-3-5-molar',
        'silver-chloride-saturated',
      ]),
    );
  });

  // International Journal of Corrosion 2010, article 756950, table 2; 4 mol/L from an encyclopedic table (a copy).
  it('of silver chloride at 25 °C without the junction: 197.0 saturated, 236.0 in 1 mol/L, 289.5 in 0.1 mol/L', () => {
    expectRows(
      '25 197.0 236.0 289.5 200',
      electrodes([
        'silver-chloride-saturated-without-junction',
        'silver-chloride-1-molar-without-junction',
        'silver-chloride-tenth-molar-without-junction',
        'silver-chloride-4-molar',
      ]),
    );
  });

  it('TRAP: an instrument table headed 3 mol/L prints 221 to 196 from 5 to 40 °C, and not the values of 3 mol/L', () => {
    const headed3 = electrodes(['silver-chloride-instrument-table-3-molar']);
    expectRows('5 221\n10 217\n15 214\n20 210\n25 207\n30 203\n35 200\n40 196', headed3);
    expect(at(REFERENCE_ELECTRODES['silver-chloride-3-molar'], '25')).not.toBe('207');
  });

  it('of ZoBell read with 4 mol/L (an instrument table, read in a copy): 260.5 at 0 °C, 228.0 at 25 °C', () => {
    expectRows('0 260.5\n5 254.0\n10 247.5\n15 241.0\n20 234.5\n25 228.0\n30 221.5', [ZOBELL_WITH_4_MOLAR]);
  });

  // US EPA Region 4, SESDPROC-113: revision 1 replaced +560 mV of revision 0 by +544 mV.
  it('TRAP: +560 mV is no other filling of the same reading as +544 mV: at one temperature they are at most 11 mV apart', () => {
    const fillings = electrodes([
      'silver-chloride-3-molar',
      'silver-chloride-3-3-molar',
      'silver-chloride-3-5-molar',
      'silver-chloride-saturated',
    ]);
    for (const celsius of ['10', '15', '20', '25', '30']) {
      for (const used of fillings) {
        const orp = String(544 - Number(at(used, celsius)));
        const all = fillings.map((filling) => Number(ehMv(orp, at(filling, celsius))));
        expect(all).toContain(544);
        expect(all).not.toContain(560);
        expect(Math.max(...all) - Math.min(...all)).toBeLessThanOrEqual(11);
        expect(Math.max(...all)).toBeLessThan(560);
      }
    }
  });
});
