import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { find, type Part } from './purge-parts.ts';

/** A purge as thousands are: everything settles, nothing is hard to believe. */
const ORDINARY: readonly Part[] = [
  ['15.2', '6.91', '640', '3.10', '122', '48'],
  ['14.8', '6.95', '622', '2.20', '101', '31'],
  ['14.6', '6.98', '615', '1.40', '84', '18'],
  ['14.5', '7.00', '612', '1.02', '71', '9.8'],
  ['14.5', '7.01', '612', '0.94', '66', '7.7'],
  ['14.5', '7.01', '611', '0.91', '63', '7.1'],
  ['14.5', '7.01', '611', '0.90', '62', '6.9'],
].map(([temperatureC, ph, specificConductanceUsPerCm, dissolvedOxygenMgPerL, orpMv, turbidityNtu]) => ({
  temperatureC: temperatureC ?? null,
  ph: ph ?? null,
  specificConductanceUsPerCm: specificConductanceUsPerCm ?? null,
  dissolvedOxygenMgPerL: dissolvedOxygenMgPerL ?? null,
  orpMv: orpMv ?? null,
  turbidityNtu: turbidityNtu ?? null,
}));

describe('an ordinary purge', () => {
  it('raises nothing, with and without the pressure', () => {
    expect(find(ORDINARY)).toEqual([]);
    expect(find(ORDINARY, { altitudeFt: '600' })).toEqual([]);
  });

  it('raises nothing where the readings say nothing', () => {
    expect(find([{}, {}, {}], { altitudeFt: '600' })).toEqual([]);
    expect(find([])).toEqual([]);
  });
});

describe('what every finding is', () => {
  const decimal = (max: number, places: number) =>
    fc.option(
      fc.double({ min: 0, max, noNaN: true }).map((value) => value.toFixed(places)),
      { nil: null },
    );
  const reading = fc.record({
    temperatureC: decimal(35, 1),
    ph: decimal(14, 2),
    specificConductanceUsPerCm: decimal(60_000, 0),
    dissolvedOxygenMgPerL: decimal(20, 2),
    dissolvedOxygenPercent: decimal(200, 1),
    orpMv: fc.option(fc.integer({ min: -400, max: 400 }).map(String), { nil: null }),
  });

  it('names readings of the purge, a source and its figures, whatever the readings', () => {
    fc.assert(
      fc.property(fc.array(reading, { maxLength: 12 }), (parts) => {
        for (const finding of find(parts, { altitudeFt: '1000' })) {
          expect(finding.readings.length).toBeGreaterThan(0);
          expect(new Set(finding.readings).size).toBe(finding.readings.length);
          expect(finding.sentence).not.toMatch(/NaN|undefined|null/);
          expect(finding.source.length).toBeGreaterThan(10);
          for (const { value } of finding.numbers) expect(value).not.toBe('');
        }
      }),
    );
  });
});
