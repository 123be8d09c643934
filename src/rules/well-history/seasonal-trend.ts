import { type SeasonalKendall, seasonalKendall } from '../../science/history/seasonal-kendall.ts';
import { isRefusal, type Refusal, refuse } from '../../science/refusal.ts';
import { SLOPE_CONFIDENCE, type TrendGiven, type TrendSlope } from './trend.ts';

/** Whether every round names its season, or none does; a mixture is refused, for it would lose rounds without a word. */
export function namesSeasons(rounds: readonly { readonly season?: string | undefined }[]): boolean | Refusal {
  const named = rounds.filter((round) => round.season !== undefined).length;
  if (named === 0) return false;
  return named === rounds.length
    ? true
    : refuse(`${named} of ${rounds.length} rounds name their season: name it for all of them or for none.`);
}

/** Seasons that go different ways at this p have no one trend. Common practice, no source. */
export const APART_BELOW_P = 0.05;

export interface SeasonalTested {
  readonly test: SeasonalKendall;
  readonly line: TrendSlope;
  /** Whether the seasons contradict each other, so that the one trend misleads. */
  readonly apart: boolean;
}

/** The seasonal test of rounds that all name their season, every value measured. */
export function testSeasonalTrend({ points, side }: TrendGiven): SeasonalTested | Refusal {
  if (points.some((point) => point.nonDetect))
    return refuse(
      'The seasonal test here takes measured values only: ask without seasons, or for the seasons one by one.',
    );
  const test = seasonalKendall(
    points.map(({ season, ...point }) => ({ ...point, season: season ?? '' })),
    { side, confidence: SLOPE_CONFIDENCE },
  );
  if (isRefusal(test)) return test;
  const ends = isRefusal(test.interval) ? { lower: null, upper: null } : test.interval;
  const because = isRefusal(test.interval)
    ? test.interval.refused
    : `The ends are of ${SLOPE_CONFIDENCE * 100} % confidence.`;
  return {
    test,
    line: { slope: test.slope, ...ends, because: [because] },
    apart: test.heterogeneity.p < APART_BELOW_P,
  };
}
