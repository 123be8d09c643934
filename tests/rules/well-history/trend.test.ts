import { describe, expect, it } from 'vitest';
import { namesSeasons, testSeasonalTrend } from '../../../src/rules/well-history/seasonal-trend.ts';
import { slopeOfTrend, type TrendGiven, testTrend } from '../../../src/rules/well-history/trend.ts';
import { given, refusal } from '../../science/history/given.ts';

function trendOf(times: readonly number[]): TrendGiven {
  const points = times.map((time, at) => ({ time, value: at + 1, nonDetect: false }));
  return { points, scale: 'raw', side: 'two-sided', significance: 0.05 };
}

describe('the trend of a well', () => {
  it('has no slope where two values are of one time, and says so', () => {
    const slope = slopeOfTrend(trendOf([1, 2, 2, 3, 4]));
    expect(slope).toMatchObject({ slope: null, lower: null, upper: null });
    expect(slope.because[0]).toContain('No slope: Two values are of the time 2');
  });

  it('changes from the exact to the normal distribution above ten values', () => {
    const ten = given(testTrend(trendOf([1, 2, 3, 4, 5, 6, 7, 8, 9, 10])));
    const eleven = given(testTrend(trendOf([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11])));
    expect([ten.test.distribution, eleven.test.distribution]).toEqual(['exact', 'normal']);
  });

  it('rounds without a season are one season, which is no seasonal test', () => {
    expect(namesSeasons([{}, { season: undefined }])).toBe(false);
    expect(refusal(testSeasonalTrend(trendOf([1, 2, 3, 4, 5])))).toContain('One season alone');
  });
});
