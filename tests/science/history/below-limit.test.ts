import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { belowCommonLimit, type Reported, tooManyNonDetects } from '../../../src/science/history/below-limit.ts';
import { kendallScore } from '../../../src/science/history/kendall-score.ts';
import { mannKendall } from '../../../src/science/history/mann-kendall.ts';
import { theilSen } from '../../../src/science/history/theil-sen.ts';
import { sureSlope, theilSenRange } from '../../../src/science/history/theil-sen-range.ts';
import { given, refusal } from './given.ts';

const below = (value: number): Reported => ({ value, nonDetect: true });
const measured = (value: number): Reported => ({ value, nonDetect: false });
const timed = (row: readonly Reported[]) => row.map((one, time) => ({ ...one, time }));

describe('non-detects in a test of order', () => {
  it('makes all that lies below the highest limit alike', () => {
    expect(belowCommonLimit([below(5), measured(3), below(1), measured(5), measured(7)])).toEqual({
      ordered: [0, 0, 0, 5, 7],
      limit: 5,
      nonDetects: 2,
      measuredBelow: 1,
    });
    expect(belowCommonLimit([measured(3), measured(2)])).toEqual({
      ordered: [3, 2],
      limit: null,
      nonDetects: 0,
      measuredBelow: 0,
    });
    expect(refusal(belowCommonLimit([]))).toContain('too few');
  });

  it('sees no trend in limits that fall, as a laboratory gets better; the limits themselves would fall surely', () => {
    const better = [below(20), below(10), below(5), below(2), below(1), below(0.5)];
    const by = { distribution: 'exact', side: 'falling' } as const;
    expect(refusal(mannKendall(given(belowCommonLimit(better)).ordered, by))).toContain('alike');
    expect(
      given(
        mannKendall(
          better.map((one) => one.value),
          by,
        ),
      ).p,
    ).toBeLessThan(0.002);
  });

  it('does not see what stands below the common limit: S is the same whatever it was', () => {
    const row = fc.array(fc.record({ value: fc.integer({ min: 1, max: 40 }), nonDetect: fc.boolean() }), {
      minLength: 2,
      maxLength: 12,
    });
    fc.assert(
      fc.property(row, fc.integer({ min: 1, max: 40 }), (reported, other) => {
        const { ordered, limit } = given(belowCommonLimit(reported));
        if (limit === null) return;
        const changed = reported.map((one) =>
          one.value < limit ? { nonDetect: true, value: Math.min(other, limit) } : one,
        );
        expect(kendallScore(given(belowCommonLimit(changed)).ordered)).toEqual(kendallScore(ordered));
      }),
    );
  });
});

describe('a slope through non-detects', () => {
  it('is refused above 20 % of them (common practice, no source), not at it', () => {
    const four = [1, 2, 3, 4].map(measured);
    expect(tooManyNonDetects([below(1), ...four])).toBeUndefined();
    expect(refusal(theilSenRange(timed([below(1), below(1), ...four]), 0))).toContain('2 of 6 values are non-detects');
  });

  it('is the slope itself where everything was measured', () => {
    const row = timed([3, 1, 4, 1.5, 5, 9, 2.6].map(measured));
    const range = theilSenRange(row, 0);
    expect(sureSlope(range)).toBeCloseTo(given(theilSen(row, 0.9)).slope, 12);
  });

  it('is sure where the non-detect cannot move it, and a range where it can', () => {
    const steady = timed([below(1), measured(10), measured(20), measured(30), measured(40), measured(50)]);
    expect(sureSlope(theilSenRange(steady, 0))).toBeCloseTo(10, 12);
    const open = theilSenRange(timed([below(5), measured(8), measured(7), measured(9), measured(12)]), 0);
    expect(given(open).least).toBeLessThan(given(open).most);
    expect(sureSlope(open)).toBeUndefined();
    expect(sureSlope(theilSenRange([], 0))).toBeUndefined();
  });

  it('holds for a logarithm, whose floor is without end', () => {
    const logs = (values: readonly number[], below: number) =>
      values.map((value, time) => ({ time, value: Math.log(value), nonDetect: time === below }));
    const range = given(theilSenRange(logs([9, 4, 2.5, 3, 2], 4), Number.NEGATIVE_INFINITY));
    expect(range.most).toBeLessThan(0);
    expect(range.least).toBeLessThan(range.most);
    for (let place = 0; place < 10; place += 1) {
      const two = logs([9, 8, 7, 5, 6, 4, 3, 2, 1, 0.5], 0).map((one) => ({
        ...one,
        nonDetect: one.time === place || one.time === (place + 5) % 10,
      }));
      const { least, most } = given(theilSenRange(two, Number.NEGATIVE_INFINITY));
      expect([Number.isFinite(least), Number.isFinite(most)]).toEqual([true, true]);
    }
  });

  it('refuses a floor above a value, and two values of one time', () => {
    expect(refusal(theilSenRange(timed([measured(-1), measured(2)]), 0))).toContain('below the floor');
    expect(refusal(theilSenRange(timed([measured(1), measured(2)]), Number.NaN))).toContain('floor of NaN');
    const twice = [
      { ...measured(1), time: 0 },
      { ...measured(2), time: 0 },
    ];
    expect(refusal(theilSenRange(twice, 0))).toContain('time 0');
  });

  it('lets no value of a non-detect, from floor to limit, leave the range', () => {
    const row = fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 5, maxLength: 9 });
    fc.assert(
      fc.property(row, fc.nat(4), fc.double({ min: 0, max: 1, noNaN: true }), (values, at, share) => {
        const reported = timed(values.map((value, place) => ({ value, nonDetect: place === at })));
        const { least, most } = given(theilSenRange(reported, 0));
        const actual = reported.map((one) => ({ ...one, value: one.nonDetect ? one.value * share : one.value }));
        const { slope } = given(theilSen(actual, 0.9));
        expect(slope).toBeGreaterThanOrEqual(least - 1e-9);
        expect(slope).toBeLessThanOrEqual(most + 1e-9);
      }),
    );
  });
});
