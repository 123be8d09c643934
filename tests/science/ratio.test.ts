import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { productAtMost } from '../../src/science/product-at-most.ts';
import { percentRatio, quotientRoundedUp, ratioRoundedUp } from '../../src/science/ratio.ts';

const whole = fc.integer({ min: -1e15, max: 1e15 });
const positive = fc.integer({ min: 1, max: 1e15 });

describe('exact comparison', () => {
  it('A1 compares products of any size as an arbitrary-precision library does', () => {
    fc.assert(
      fc.property(whole, whole, whole, whole, (a, b, c, d) => {
        const oracle = BigInt(a) * BigInt(b) <= BigInt(c) * BigInt(d);
        expect(productAtMost(a, b, c, d)).toBe(oracle);
      }),
    );
  });

  it('A1 tells apart products that differ by one beyond 2^53, where doubles do not', () => {
    const [a, b] = [94_906_267, 94_906_267];
    expect(a * b).toBe(94_906_266 * 94_906_268);
    expect(productAtMost(a, b, 94_906_266, 94_906_268)).toBe(false);
    expect(productAtMost(94_906_266, 94_906_268, a, b)).toBe(true);
  });
});

describe('products that are equal beyond 2^53', () => {
  it('A1 are at most each other, either way round', () => {
    expect(productAtMost(94_906_267, 94_906_268, 94_906_268, 94_906_267)).toBe(true);
    expect(productAtMost(3, 6_000_000_000_000_001, 6_000_000_000_000_001, 3)).toBe(true);
    expect(productAtMost(6_000_000_000_000_001, 4, 12_000_000_000_000_002, 2)).toBe(true);
  });
});

describe('percentages', () => {
  it.each([
    ['3', 3, 100],
    ['10', 1, 10],
    ['2.5', 1, 40],
    ['0', 0, 1],
  ])('keeps %s percent in lowest terms', (percent, difference, base) => {
    expect(percentRatio(percent)).toEqual({ difference, base });
  });

  it('rounds what is shown up, so that what fails never reads as if it passed', () => {
    expect(ratioRoundedUp({ difference: 10_004, base: 100_000 }, 100, 2)).toBe('10.01');
    expect(ratioRoundedUp({ difference: 1, base: 10 }, 100, 2)).toBe('10.00');
    expect(ratioRoundedUp({ difference: 0, base: 7 }, 100, 2)).toBe('0.00');
  });

  it('rounds up exactly, also beyond 2^53', () => {
    fc.assert(
      fc.property(fc.nat(1e15), fc.nat(1e6), positive, (a, b, c) => {
        const exact = BigInt(a) * BigInt(b);
        const up = BigInt(quotientRoundedUp(a, b, c));
        expect(up * BigInt(c) >= exact && (up - 1n) * BigInt(c) < exact).toBe(true);
      }),
    );
  });
});
