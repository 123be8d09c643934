import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { chiSquareUpperTail } from './chi-square-tail.ts';
import { type KendallScore, kendallScore } from './kendall-score.ts';
import { continuityZ, normalP, type TrendSide } from './mann-kendall.ts';
import { median } from './median.ts';
import { ascending } from './readable-values.ts';
import { type SlopeInterval, slopeInterval } from './slope-interval.ts';
import { pairSlopes, type TimedValue, unusablePoints } from './theil-sen.ts';

export interface SeasonalValue extends TimedValue {
  /** Month, quarter or round: what is compared with its like only. */
  readonly season: string;
}

export interface SeasonalKendall {
  readonly s: number;
  readonly variance: number;
  /** With the continuity correction. */
  readonly z: number;
  readonly p: number;
  readonly side: TrendSide;
  /** Median of all slopes within seasons. */
  readonly slope: number;
  readonly interval: SlopeInterval | Refusal;
  readonly seasons: number;
  /** Whether the seasons tell of one trend: a small p says that they go different ways and the one trend misleads. */
  readonly heterogeneity: { readonly chiSquare: number; readonly degreesOfFreedom: number; readonly p: number };
}

function bySeason(points: readonly SeasonalValue[]): readonly SeasonalValue[][] {
  const seasons = new Map<string, SeasonalValue[]>();
  for (const point of points.toSorted((a, b) => a.time - b.time))
    seasons.set(point.season, [...(seasons.get(point.season) ?? []), point]);
  return [...seasons.values()];
}

/** Sum of the squared z of the seasons less what their common trend explains (van Belle and Hughes). */
function heterogeneity(scores: readonly KendallScore[]): SeasonalKendall['heterogeneity'] {
  const each = scores.map(({ s, variance }) => s / Math.sqrt(variance));
  const sum = each.reduce((total, z) => total + z, 0);
  const squares = each.reduce((total, z) => total + z * z, 0);
  const chiSquare = Math.max(0, squares - (sum * sum) / each.length);
  const degreesOfFreedom = each.length - 1;
  return { chiSquare, degreesOfFreedom, p: chiSquareUpperTail(chiSquare, degreesOfFreedom) };
}

function scoresOf(seasons: readonly SeasonalValue[][]): KendallScore[] | Refusal {
  const scores: KendallScore[] = [];
  for (const season of seasons) {
    const score = kendallScore(season.map((point) => point.value));
    if (isRefusal(score) || score.variance === 0)
      return refuse(
        `Season "${season[0]?.season}" has ${season.length} value(s), all alike: leave it out, or wait until it has two that differ.`,
      );
    scores.push(score);
  }
  return scores.length > 1 ? scores : refuse('One season alone is no seasonal test: use the Mann-Kendall test.');
}

/**
 * Seasonal Kendall test: each season is compared with itself in other years only, and the scores are added. The normal
 * distribution with corrections for ties and continuity.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 14-10; heterogeneity after van
 * Belle and Hughes 1984 (from memory). Limits: seasons that do not depend on each other (their covariance is not
 * counted); every value measured; about 3 years at least.
 *
 * @param points in any order; `time` in the unit that the slope is to be per
 */
export function seasonalKendall(
  points: readonly SeasonalValue[],
  by: { readonly side: TrendSide; readonly confidence: number },
): SeasonalKendall | Refusal {
  const unusable = unusablePoints(points, 4);
  if (unusable) return unusable;
  const seasons = bySeason(points);
  const scores = scoresOf(seasons);
  if (isRefusal(scores)) return scores;
  const s = scores.reduce((sum, score) => sum + score.s, 0);
  const variance = scores.reduce((sum, score) => sum + score.variance, 0);
  const z = continuityZ(s, variance);
  const slopes = ascending(seasons.flatMap(pairSlopes));
  return {
    s,
    variance,
    z,
    p: normalP(z, by.side),
    side: by.side,
    slope: median(slopes),
    interval: slopeInterval(slopes, variance, by.confidence),
    seasons: seasons.length,
    heterogeneity: heterogeneity(scores),
  };
}
