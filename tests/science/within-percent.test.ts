import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { PERCENT_ARITHMETICS, type PercentArithmetic } from '../../src/science/arithmetic-names.ts';
import { millionths } from '../../src/science/millionths.ts';
import { percentRatio, ratioRoundedUp } from '../../src/science/ratio.ts';
import { percentCompared, withinPercent } from '../../src/science/within-percent.ts';
import { oracle } from './seven-arithmetics-oracle.ts';

type Window = readonly string[];

function passes(arithmetic: PercentArithmetic | 'spread-over-smallest', window: Window, percent: string): boolean {
  return withinPercent(arithmetic, window.map(millionths), percentRatio(percent));
}

function letters(window: Window, percent: string): string {
  return PERCENT_ARITHMETICS.map((arithmetic) => (passes(arithmetic, window, percent) ? 'P' : 'F')).join('');
}

function figure(arithmetic: PercentArithmetic, window: Window): string | null {
  const compared = percentCompared(arithmetic, window.map(millionths));
  return compared && ratioRoundedUp(compared, 100, 2);
}

const percents = fc.constantFrom('3', '5', '10', '2.5', '0.5');
const anyReading = fc.integer({ min: 1, max: 99_999 }).map((value) => (value / 100).toFixed(2));
/** Windows around a common value, of which some pass and some fail, often by one digit. */
const windows = fc
  .tuple(
    fc.integer({ min: 30, max: 100_000 }),
    fc.array(fc.integer({ min: -110, max: 110 }), { minLength: 2, maxLength: 9 }),
    fc.constantFrom(0, 1, 2, 3),
  )
  .map(([centre, shifts, places]) =>
    shifts.map((shift) => {
      const value = Math.max(1, Math.round(centre * (1 + shift / 1_000)));
      return new Decimal(value).div(10 ** places).toFixed(places);
    }),
  );

describe('the seven arithmetics of "within 10 %"', () => {
  // Computed by hand from the seven sentences; order of the letters as in PERCENT_ARITHMETICS.
  it.each([
    [['1.00', '0.95', '0.91'], '10', 'PPPPPPP', '9.4'],
    [['1.00', '1.08', '0.99'], '10', 'PPPPPPP', '8.8'],
    [['1.00', '0.92', '0.85'], '10', 'PPFPPFF', '16.2'],
    [['1.00', '0.91', '0.83'], '10', 'PPFPPFF', '18.6'],
    [['1.00', '0.90', '0.81'], '10', 'PFFFFFF', '21.0'],
    [['500', '510', '520'], '3', 'PPFPPFF', '3.9'],
    [['500', '514', '529'], '3', 'PPFPPFF', '5.6'],
    [['1.00', '0.95', '0.905'], '10', 'PPPPPFP', '9.98'],
    [['0.905', '1.00', '0.95'], '10', 'FPPPPPF', '9.98'],
    [['252', '282', '335'], '10', 'FFFFFFF', '28.7'],
  ])('A1 decides %j at %s %% as %s', (window, percent, expected, rangeOfMean) => {
    expect(letters(window, percent)).toBe(expected);
    const shown = figure('range-of-mean', window) ?? '';
    expect(Math.abs(Number(shown) - Number(rangeOfMean))).toBeLessThan(0.06);
  });

  // Colorado state file, doc 794463, page 7: the reviewer's "within 17 %" is the relative percent difference.
  it('finds the figures of a published case: 17.2 % of the pair mean, 15.8 % of the last, 18.8 % of the previous', () => {
    expect(figure('each-step-of-pair-mean', ['282', '335'])).toBe('17.18');
    expect(figure('earlier-of-last', ['282', '335'])).toBe('15.83');
    expect(figure('each-step-of-previous', ['282', '335'])).toBe('18.80');
  });

  it('agrees with a second way of computing them, straight from the prose in 60 digits', () => {
    const names = [...PERCENT_ARITHMETICS, 'spread-over-smallest'] as const;
    fc.assert(
      fc.property(windows, percents, (window, percent) => {
        for (const name of names) {
          expect([name, passes(name, window, percent)]).toEqual([name, oracle(name, window, percent)]);
        }
      }),
      { numRuns: 3_000 },
    );
  });

  it('agrees with it also for readings of any size, where products outgrow 2^53', () => {
    const long = fc.integer({ min: 1, max: 1e13 }).map((value) => new Decimal(value).div(1e6).toFixed(6));
    fc.assert(
      fc.property(fc.array(long, { minLength: 2, maxLength: 5 }), percents, (window, percent) => {
        for (const name of PERCENT_ARITHMETICS) {
          expect(passes(name, window, percent)).toBe(oracle(name, window, percent));
        }
      }),
    );
  });

  it('A8 passes all seven where the spread over the smallest value is within the tolerance', () => {
    let implied = 0;
    fc.assert(
      fc.property(windows, percents, (window, percent) => {
        if (!passes('spread-over-smallest', window, percent)) return;
        implied += 1;
        expect(letters(window, percent)).toBe('PPPPPPP');
      }),
      { numRuns: 3_000 },
    );
    expect(implied).toBeGreaterThan(100);
  });

  it('A8 is not implied so by the spread over the mean: 1.00, 0.95, 0.905 passes that and fails against the last', () => {
    expect(passes('range-of-mean', ['1.00', '0.95', '0.905'], '10')).toBe(true);
    expect(passes('earlier-of-last', ['1.00', '0.95', '0.905'], '10')).toBe(false);
    expect(passes('spread-over-smallest', ['1.00', '0.95', '0.905'], '10')).toBe(false);
  });

  it('does not depend on the unit: a reading in mS/cm or in µS/cm is decided alike', () => {
    fc.assert(
      fc.property(windows, percents, (window, percent) => {
        const inOther = window.map((one) => new Decimal(one).times(1_000).toFixed());
        expect(letters(inOther, percent)).toBe(letters(window, percent));
      }),
    );
  });

  it('does not depend on the order of the window where the arithmetic has none', () => {
    fc.assert(
      fc.property(windows, percents, (window, percent) => {
        for (const name of ['range-of-mean', 'band', 'each-of-mean', 'spread-over-smallest'] as const) {
          expect(passes(name, window.toReversed(), percent)).toBe(passes(name, window, percent));
        }
      }),
    );
  });

  it('never passes a window that holds zero or a negative number: a part of that means nothing', () => {
    fc.assert(
      fc.property(anyReading, fc.constantFrom('0', '0.00', '-0.1', '-84'), percents, (reading, bad, percent) => {
        expect(letters([reading, bad, reading], percent)).toBe('FFFFFFF');
        expect(figure('range-of-mean', [reading, bad])).toBeNull();
      }),
    );
  });

  it('passes readings that do not change, and at the tolerance itself', () => {
    expect(letters(['7', '7', '7'], '3')).toBe('PPPPPPP');
    expect(passes('each-step-of-previous', ['1.00', '0.90'], '10')).toBe(true);
    expect(passes('each-step-of-previous', ['1.000', '0.899'], '10')).toBe(false);
  });
});
