import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { type SeasonalValue, seasonalKendall } from '../../../src/science/history/seasonal-kendall.ts';
import { given, refusal } from './given.ts';
import { MONTHLY } from './published-rows.ts';

const both = { side: 'two-sided', confidence: 0.95 } as const;
const monthly: readonly SeasonalValue[] = MONTHLY.map((value, at) => ({
  season: `month ${(at % 12) + 1}`,
  time: 1983 + Math.floor(at / 12) + (at % 12) / 12,
  value,
}));

describe('the seasonal Kendall test', () => {
  it('US EPA, Unified Guidance 2009, Example 14-10: z 5.1849514, slope 0.0600 a year, 95 % 0.05787 to 0.07213', () => {
    const trend = given(seasonalKendall(monthly, both));
    expect(trend).toMatchObject({ seasons: 12, side: 'two-sided' });
    expect(trend.z).toBeCloseTo(5.1849514, 6);
    expect(trend.slope).toBeCloseTo(0.06, 6);
    expect(given(trend.interval).lower).toBeCloseTo(0.05787, 4);
    expect(given(trend.interval).upper).toBeCloseTo(0.07213, 4);
  });

  it('the same example: heterogeneity chi-square 0.10719 with 11 degrees of freedom: the months tell of one trend', () => {
    const { heterogeneity } = given(seasonalKendall(monthly, both));
    expect(heterogeneity.chiSquare).toBeCloseTo(0.10719, 5);
    expect(heterogeneity.degreesOfFreedom).toBe(11);
    expect(heterogeneity.p).toBeCloseTo(1 - jstat.jStat.chisquare.cdf(0.10719, 11), 6);
  });

  it('finds seasons that go different ways, where the one trend is none', () => {
    const apart = Array.from({ length: 16 }, (_, at) => ({
      season: at % 2 === 0 ? 'spring' : 'autumn',
      time: at / 2,
      value: at % 2 === 0 ? at : -at,
    }));
    const trend = given(seasonalKendall(apart, both));
    expect(trend.s).toBe(0);
    expect(trend.p).toBe(1);
    expect(trend.heterogeneity.p).toBeLessThan(0.001);
  });

  it('refuses one season, a season that says nothing, and rows that cannot be read', () => {
    const spring = monthly.map((one) => ({ ...one, season: 'spring' }));
    expect(refusal(seasonalKendall(spring, both))).toContain('One season alone');
    expect(refusal(seasonalKendall(monthly.slice(0, 13), both))).toContain('Season "month 2" has 1 value(s)');
    const flat = monthly.map((one) => (one.season === 'month 3' ? { ...one, value: 2 } : one));
    expect(refusal(seasonalKendall(flat, both))).toContain('Season "month 3" has 3 value(s), all alike');
    expect(refusal(seasonalKendall(monthly.slice(0, 3), both))).toContain('too few');
  });

  it('sees neither the order of the points nor a difference between seasons', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -20, max: 20 }), { minLength: 12, maxLength: 12 }), (offsets) => {
        const moved = monthly.map((one, at) => ({ ...one, value: one.value + (offsets[at % 12] ?? 0) }));
        const trend = given(seasonalKendall(moved.toReversed(), both));
        expect(trend.slope).toBeCloseTo(0.06, 6);
        const falling = given(
          seasonalKendall(
            monthly.map((one) => ({ ...one, value: -one.value })),
            both,
          ),
        );
        expect(falling.z).toBeCloseTo(-given(seasonalKendall(monthly, both)).z, 12);
      }),
      { numRuns: 20 },
    );
  });
});
