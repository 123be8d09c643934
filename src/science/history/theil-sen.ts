import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { kendallScore } from './kendall-score.ts';
import { median } from './median.ts';
import { ascending, unusableRow } from './readable-values.ts';
import { type SlopeInterval, slopeInterval } from './slope-interval.ts';

export interface TimedValue {
  /** In years, days or whatever the slope is to be per; see `yearsBetween` for true dates. */
  readonly time: number;
  readonly value: number;
}

export interface TheilSen {
  readonly slope: number;
  /** Median of the values less slope times median of the times: a line through the middle of both. */
  readonly intercept: number;
  readonly slopes: number;
  /** Refused where there are too few slopes. */
  readonly interval: SlopeInterval | Refusal;
}

/** Times and values that can be put in order: finite, and no two of one time. */
export function unusablePoints(points: readonly TimedValue[], least: number): Refusal | undefined {
  const unusable =
    unusableRow(
      points.map((point) => point.time),
      least,
    ) ??
    unusableRow(
      points.map((point) => point.value),
      least,
    );
  if (unusable) return unusable;
  const times = points.map((point) => point.time);
  const twice = times.find((time, at) => times.indexOf(time) !== at);
  return twice === undefined
    ? undefined
    : refuse(`Two values are of the time ${twice}: decide first which of them counts, for they have no order.`);
}

/** The slope of every pair of points, in no particular order. */
export function pairSlopes(points: readonly TimedValue[]): number[] {
  return points.flatMap((later, at) =>
    points.slice(0, at).map((earlier) => (later.value - earlier.value) / (later.time - earlier.time)),
  );
}

/**
 * Theil-Sen line: the median of the slopes of all pairs, which a few wild values do not move.
 *
 * The unit of the slope is the unit of the values over the unit of the times. A published time such as 89.6 may be a
 * year with its month as a digit and not 0.6 of a year: the slope then is per such "year" and is wrong by a few percent.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 17-6; intercept after Conover (from memory).
 * Limits: every value measured; with values below a limit see `theilSenRange`.
 *
 * @example theilSen([1, 2, 3, 4, 5, 16, 7].map((value, at) => ({ time: at + 1, value })), 0.95) // slope 1, intercept 0
 */
export function theilSen(points: readonly TimedValue[], confidence: number): TheilSen | Refusal {
  const inTime = points.toSorted((a, b) => a.time - b.time);
  const score = kendallScore(inTime.map((point) => point.value));
  if (isRefusal(score)) return score;
  const unusable = unusablePoints(points, 2);
  if (unusable) return unusable;
  const slopes = ascending(pairSlopes(inTime));
  const slope = median(slopes);
  return {
    slope,
    intercept: median(inTime.map((point) => point.value)) - slope * median(inTime.map((point) => point.time)),
    slopes: slopes.length,
    interval: slopeInterval(slopes, score.variance, confidence),
  };
}
