import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ABSOLUTE_ARITHMETICS } from '../../src/science/arithmetic-names.ts';
import { millionths } from '../../src/science/millionths.ts';
import { absoluteBand } from '../../src/science/within/absolute-band.ts';
import { eachStep } from '../../src/science/within/each-step.ts';
import { extent } from '../../src/science/within/extent.ts';
import { withinAbsolute } from '../../src/science/within-absolute.ts';

function letters(window: readonly string[], tolerance: string): string {
  const values = window.map(millionths);
  return ABSOLUTE_ARITHMETICS.map((name) => (withinAbsolute(name, values, millionths(tolerance)) ? 'P' : 'F')).join('');
}

describe('the three arithmetics of "within 0.1 pH"', () => {
  // Computed: total spread, band, each step.
  it.each([
    [['7.23', '7.13'], '0.1', 'PPP'],
    [['7.24', '7.13'], '0.1', 'FPF'],
    [['7.10', '7.18', '7.26'], '0.1', 'FPP'],
    [['7.10', '7.20', '7.30'], '0.1', 'FPP'],
    [['7.10', '7.20', '7.31'], '0.1', 'FFF'],
    [['7.10', '7.19', '7.28', '7.37'], '0.1', 'FFP'],
    [['-84', '-75', '-78'], '10', 'PPP'],
    [['-4', '0', '5'], '10', 'PPP'],
  ])('A1 decides %j within %s as %s', (window, tolerance, expected) => {
    expect(letters(window, tolerance)).toBe(expected);
  });

  // Colorado state file, doc 794463, page 7.
  it('A1 fails a published case under every arithmetic: pH 9.29, 9.21, 9.08', () => {
    expect(letters(['9.29', '9.21', '9.08'], '0.1')).toBe('FFF');
  });

  it('orders them: a total spread within the tolerance is within it by the other two', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -1_000, max: 1_000 }), { minLength: 2, maxLength: 9 }), (window) => {
        const tolerance = 100;
        const all = ABSOLUTE_ARITHMETICS.map((name) => withinAbsolute(name, window, tolerance));
        const steps = window.slice(1).map((now, index) => Math.abs(now - (window[index] ?? 0)));
        expect(all).toEqual([
          Math.max(...window) - Math.min(...window) <= tolerance,
          Math.max(...window) - Math.min(...window) <= 2 * tolerance,
          steps.every((step) => step <= tolerance),
        ]);
        if (all[0]) expect(all).toEqual([true, true, true]);
      }),
    );
  });

  it('has no spread in an empty window', () => {
    expect(extent([])).toEqual({ smallest: 0, largest: 0, sum: 0, first: 0, last: 0 });
    expect(eachStep([])).toEqual({ difference: 0, base: 1 });
    expect(absoluteBand([])).toEqual({ difference: 0, base: 2 });
  });
});
