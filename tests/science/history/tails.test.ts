import fc from 'fast-check';
import jstat from 'jstat';
import { cumulativeStdNormalProbability } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { chiSquareUpperTail } from '../../../src/science/history/chi-square-tail.ts';
import { normalQuantileOfTail, normalUpperTail } from '../../../src/science/history/normal-tail.ts';

const { jStat } = jstat;

describe('the upper tail of the normal distribution', () => {
  it('agrees with two general-purpose libraries, and with itself where series and fraction meet', () => {
    for (let z = -5; z <= 5; z += 0.25) {
      expect(normalUpperTail(z)).toBeCloseTo(1 - jStat.normal.cdf(z, 0, 1), 10);
      // The second one keeps a printed table of four digits up to 3.09.
      if (Math.abs(z) <= 3) expect(normalUpperTail(z)).toBeCloseTo(1 - cumulativeStdNormalProbability(z), 3);
    }
    expect(normalUpperTail(2 - 1e-12) - normalUpperTail(2)).toBeCloseTo(0, 12);
  });

  it('keeps its precision far out: 0.5 erfc(5 / sqrt 2) = 2.8665157187919391e-7, Abramowitz & Stegun table 26.2', () => {
    expect(normalUpperTail(5) / 2.8665157187919391e-7).toBeCloseTo(1, 12);
    expect(normalUpperTail(0)).toBe(0.5);
  });

  it('gives the z of a tail back', () => {
    for (const tail of [0.4, 0.1, 0.05, 0.025, 0.005, 1e-6]) {
      expect(normalUpperTail(normalQuantileOfTail(tail)) / tail).toBeCloseTo(1, 12);
      expect(normalQuantileOfTail(tail)).toBeCloseTo(jStat.normal.inv(1 - tail, 0, 1), 6);
    }
  });

  it('falls as z rises, and both sides make one', () => {
    const z = fc.double({ min: -8, max: 8, noNaN: true });
    fc.assert(
      fc.property(z, z, (a, b) => {
        expect(Math.sign(normalUpperTail(a) - normalUpperTail(b)) * Math.sign(a - b)).toBeLessThanOrEqual(0);
        expect(normalUpperTail(a) + normalUpperTail(-a)).toBeCloseTo(1, 14);
      }),
    );
  });
});

describe('the upper tail of chi-square', () => {
  it('agrees with a general-purpose library, odd and even', () => {
    for (let degrees = 1; degrees <= 24; degrees += 1)
      for (const x of [0, 0.1, 1, 3.84, 11, 25])
        expect(chiSquareUpperTail(x, degrees)).toBeCloseTo(1 - jStat.chisquare.cdf(x, degrees), 8);
  });

  it('gives the usual 5 % points: 3.841 of 1, 5.991 of 2, 19.675 of 11 degrees of freedom (any printed table)', () => {
    expect(chiSquareUpperTail(3.841459, 1)).toBeCloseTo(0.05, 6);
    expect(chiSquareUpperTail(5.991465, 2)).toBeCloseTo(0.05, 6);
    expect(chiSquareUpperTail(19.675138, 11)).toBeCloseTo(0.05, 6);
  });

  it('rises with the degrees of freedom', () => {
    fc.assert(
      fc.property(fc.double({ min: 5, max: 60, noNaN: true }), fc.integer({ min: 1, max: 15 }), (x, degrees) => {
        expect(chiSquareUpperTail(x, degrees + 1)).toBeGreaterThan(chiSquareUpperTail(x, degrees));
      }),
    );
  });
});
