import fc from 'fast-check';
import { permutationsHeap } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { kendallExactTail } from '../../../src/science/history/kendall-exact.ts';
import { kendallScore } from '../../../src/science/history/kendall-score.ts';
import { mannKendall, normalP } from '../../../src/science/history/mann-kendall.ts';
import { smallestP } from '../../../src/science/history/smallest-p.ts';
import { given, refusal } from './given.ts';
import { SULFATE } from './published-rows.ts';

const sulfate = SULFATE.map((one) => one.ppm);

/** P(S >= s) by going through every order of the values. */
function byEveryOrder(values: number[], s: number): number {
  const orders = permutationsHeap(values);
  return orders.filter((order) => given(kendallScore(order)).s >= s).length / orders.length;
}

describe('Mann-Kendall', () => {
  it('US EPA, Unified Guidance 2009, Example 17-6 (page 17-33): S 194, variance 1428, Z 5.107322', () => {
    const trend = given(mannKendall(sulfate, { distribution: 'normal', side: 'two-sided' }));
    expect(trend).toMatchObject({ count: 23, s: 194, variance: 1428, distribution: 'normal', side: 'two-sided' });
    expect(trend.tieSizes.toSorted()).toEqual([2, 2, 3]);
    expect(trend.z).toBeCloseTo(5.107322, 6);
    expect(trend.p / 3.2676e-7).toBeCloseTo(1, 4);
    expect(trend.tauA).toBeCloseTo(0.7667984, 7);
    expect(trend.tauB).toBeCloseTo(194 / Math.sqrt(253 * 248), 12);
  });

  it('without the continuity correction or the ties the same example gives other figures', () => {
    expect(194 / Math.sqrt(1428)).not.toBeCloseTo(5.107322, 2);
    expect(193 / Math.sqrt((23 * 22 * 51) / 18)).not.toBeCloseTo(5.107322, 3);
  });

  it('Helsel & Hirsch, section 10.1: S 19 (from memory)', () => {
    expect(mannKendall([1, 2, 3, 4, 5, 16, 7], { distribution: 'exact', side: 'rising' })).toMatchObject({
      s: 19,
      z: null,
      p: 7 / 5040,
    });
  });

  it('asks one side or both', () => {
    const rising = [1, 2, 3, 5, 4];
    const p = (side: 'two-sided' | 'rising' | 'falling', distribution: 'exact' | 'normal') =>
      given(mannKendall(rising, { distribution, side })).p;
    expect(p('rising', 'exact')).toBeCloseTo(5 / 120, 12);
    expect(p('two-sided', 'exact')).toBeCloseTo(10 / 120, 12);
    expect(p('falling', 'exact')).toBeCloseTo(119 / 120, 12);
    expect(p('two-sided', 'normal')).toBeCloseTo(2 * p('rising', 'normal'), 12);
    expect(p('rising', 'normal') + p('falling', 'normal')).toBeCloseTo(1, 12);
    expect(given(mannKendall([1, 2, 2, 1], { distribution: 'normal', side: 'two-sided' })).p).toBe(1);
    expect(given(mannKendall([1, 2, 2, 1], { distribution: 'exact', side: 'two-sided' })).p).toBe(1);
    expect(normalP(0, 'two-sided')).toBe(1);
  });

  it('refuses what has no order to test', () => {
    const by = { distribution: 'exact', side: 'two-sided' } as const;
    expect(refusal(mannKendall([4], by))).toContain('too few');
    expect(refusal(mannKendall([4, Number.NaN, 2], by))).toContain('Value 2 is NaN');
    expect(refusal(mannKendall([4, 4, 4], by))).toContain('alike');
    expect(given(kendallScore([4, 4])).tauB).toBeNull();
    expect(refusal(mannKendall(sulfate, by))).toContain('use the normal one');
  });
});

describe("Kendall's exact distribution", () => {
  it.each([
    [4, 6, 0.0417],
    [4, 4, 0.1667],
    [5, 10, 0.0083],
    [5, 8, 0.0417],
    [5, 6, 0.1167],
    [6, 15, 0.0014],
    [6, 13, 0.0083],
    [6, 11, 0.0278],
    [6, 9, 0.0681],
    [7, 15, 0.0151],
    [7, 13, 0.0345],
    [8, 20, 0.0071],
    [8, 18, 0.0156],
  ])('of %i values P(S >= %i) is %f (computed; Gilbert 1987 uses such a table up to 10 values)', (count, s, p) => {
    expect(given(kendallExactTail({ count, tieSizes: [], s }))).toBeCloseTo(p, 4);
  });

  it('is what going through every order of up to 8 values gives, at every S', () => {
    for (let count = 2; count <= 8; count += 1) {
      const values = Array.from({ length: count }, (_, at) => at);
      const most = (count * (count - 1)) / 2;
      const orders = permutationsHeap(values).map((order) => given(kendallScore(order)).s);
      for (let s = -most; s <= most; s += 1)
        expect(kendallExactTail({ count, tieSizes: [], s })).toBeCloseTo(
          orders.filter((one) => one >= s).length / orders.length,
          12,
        );
    }
  });

  it('is so with ties too', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 4 }), { minLength: 2, maxLength: 6 }), (values) => {
        const { count, tieSizes, s } = given(kendallScore(values));
        expect(kendallExactTail({ count, tieSizes, s })).toBeCloseTo(byEveryOrder(values, s), 12);
      }),
    );
  });

  it('comes near the normal one as the values grow', () => {
    const values = [3, 1, 4, 2, 6, 5, 9, 7, 8, 12, 10, 11, 15, 13, 14, 16, 18, 17].map((one) => one * ((one % 3) + 1));
    const exact = given(mannKendall(values, { distribution: 'exact', side: 'two-sided' }));
    const normal = given(mannKendall(values, { distribution: 'normal', side: 'two-sided' }));
    expect(Math.abs(exact.p - normal.p)).toBeLessThan(0.002);
  });

  it('refuses fewer than 2 and more than 18, and what is no whole number', () => {
    for (const count of [1, 19, 4.5])
      expect(refusal(kendallExactTail({ count, tieSizes: [], s: 1 }))).toContain(`not ${count}`);
  });
});

describe('the smallest p that so many values can reach', () => {
  it('four samples never show a trend two-sided at 0.05, five can', () => {
    expect(smallestP({ count: 4, tieSizes: [], side: 'two-sided' })).toBeCloseTo(2 / 24, 12);
    expect(smallestP({ count: 4, tieSizes: [], side: 'rising' })).toBeCloseTo(1 / 24, 12);
    expect(smallestP({ count: 5, tieSizes: [], side: 'two-sided' })).toBeCloseTo(2 / 120, 12);
    expect(smallestP({ count: 5, tieSizes: [3], side: 'two-sided' })).toBeCloseTo(2 / 20, 12);
    expect(smallestP({ count: 3, tieSizes: [3], side: 'two-sided' })).toBe(1);
    expect(refusal(smallestP({ count: 30, tieSizes: [], side: 'rising' }))).toContain('not 30');
  });
});

describe('properties of S', () => {
  const row = fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 2, maxLength: 15 });

  it('turns its sign when time runs backwards and when values change sign; ties stay', () => {
    fc.assert(
      fc.property(row, (values) => {
        const { s, variance, tieSizes } = given(kendallScore(values));
        const backwards = given(kendallScore(values.toReversed()));
        const mirrored = given(kendallScore(values.map((value) => -value)));
        expect(backwards.s + s).toBe(0);
        expect(mirrored.s + s).toBe(0);
        expect([backwards.variance, backwards.tieSizes.toSorted()]).toEqual([variance, tieSizes.toSorted()]);
      }),
    );
  });

  it('does not see a shift, a change of unit or a logarithm', () => {
    fc.assert(
      fc.property(row, fc.integer({ min: 21, max: 500 }), fc.integer({ min: 1, max: 1000 }), (values, shift, unit) => {
        const score = kendallScore(values);
        expect(kendallScore(values.map((value) => (value + shift) * unit))).toEqual(score);
        expect(kendallScore(values.map((value) => Math.log(value + shift)))).toEqual(score);
      }),
    );
  });
});
