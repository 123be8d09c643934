import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isRefusal } from '../../../src/science/refusal.ts';
import { isAboveNephelometricRange, reportedTurbidity } from '../../../src/science/turbidity/reporting-step.ts';
import { sameOptics } from '../../../src/science/turbidity/same-optics.ts';
import { TURBIDITY_UNITS } from '../../../src/science/units/turbidity-units.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave a number');

describe('the steps in which turbidity is reported', () => {
  // Standard Methods 2130 B and EPA method 180.1 (from memory).
  it.each([
    ['0', '0.00', '0.05'],
    ['0.02', '0.00', '0.05'],
    ['0.025', '0.05', '0.05'],
    ['0.43', '0.45', '0.05'],
    ['0.98', '1.0', '0.1'],
    ['1.00', '1.0', '0.1'],
    ['7.23', '7.2', '0.1'],
    ['9.97', '10', '1'],
    ['23.4', '23', '1'],
    ['39.6', '40', '5'],
    ['62.4', '60', '5'],
    ['62.5', '65', '5'],
    ['98', '100', '10'],
    ['347', '350', '10'],
    ['420', '400', '50'],
    ['975', '1000', '100'],
    ['1249', '1200', '100'],
    ['1250', '1300', '100'],
  ])('%s is reported as %s in steps of %s', (read, text, step) => {
    expect(reportedTurbidity(read)).toEqual({ text, step });
  });

  // Second way: whole steps in binary numbers, far from a tie.
  it('is the nearest step, and reporting it again changes nothing', () => {
    const read = fc.integer({ min: 0, max: 4_000_000 }).map((value) => (value / 1_000).toFixed(3));
    fc.assert(
      fc.property(read, (turbidity) => {
        const reported = reportedTurbidity(turbidity);
        if (isRefusal(reported)) throw new Error(reported.refused);
        expect(Math.abs(Number(reported.text) - Number(turbidity))).toBeLessThanOrEqual(
          Number(reported.step) / 2 + 1e-9,
        );
        const steps = Number(reported.text) / Number(reported.step);
        expect(steps).toBeCloseTo(Math.round(steps), 6);
        expect(reportedTurbidity(reported.text)).toEqual(reported);
      }),
    );
  });

  it('refuses what is below zero or no number', () => {
    expect(why(reportedTurbidity('-0.1'))).toContain('below zero');
    expect(why(reportedTurbidity('clear'))).toContain('"clear"');
  });

  it('knows the range of the method: 40 NTU is in it, more is not', () => {
    expect(isAboveNephelometricRange('40')).toBe(false);
    expect(isAboveNephelometricRange('40.1')).toBe(true);
  });
});

describe('two turbidities', () => {
  it('stand together only in one unit', () => {
    expect(sameOptics(['[NTU]', '[NTU]'])).toMatchObject({ code: '[NTU]', written: 'NTU' });
    expect(why(sameOptics(['[NTU]', '[FNU]']))).toContain('never mixed');
  });

  it('of two units never do, whichever and in whatever order', () => {
    const unit = fc.constantFrom(...TURBIDITY_UNITS.map(({ code }) => code));
    fc.assert(
      fc.property(unit, unit, (a, b) => {
        expect(isRefusal(sameOptics([a, b]))).toBe(a !== b);
        expect(isRefusal(sameOptics([b, a]))).toBe(a !== b);
      }),
    );
  });

  it('are refused where a unit is missing or measures something else', () => {
    expect(why(sameOptics([]))).toContain('at least one');
    expect(why(sameOptics(['[NTU]', 'mV']))).toContain('"mV"');
    expect(why(sameOptics(['nonsense']))).toContain('"nonsense"');
  });
});
