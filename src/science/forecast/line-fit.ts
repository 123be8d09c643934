import type { TimedValue } from '../history/theil-sen.ts';
import { unusablePoints } from '../history/theil-sen.ts';
import { isRefusal, type Refusal } from '../refusal.ts';
import { studentQuantile } from './student-quantile.ts';

/** A straight line through timed values, by least squares. */
export interface LineFit {
  readonly slope: number;
  readonly meanTime: number;
  readonly meanValue: number;
  /** Sum of the squared distances of the times from their mean. */
  readonly spreadOfTimes: number;
  /** Variance of a value about the line; never less than what rounding to the last digit makes. */
  readonly variance: number;
  readonly degreesOfFreedom: number;
  /** Student's t for the confidence asked for. */
  readonly t: number;
  /** How far the slope may be off, either way. */
  readonly slopeReach: number;
}

/** Variance that rounding to a last digit makes: the square of the digit over 12. */
export function roundingVariance(lastDigit: number): number {
  return (lastDigit * lastDigit) / 12;
}

export function sumOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0);
}

export function meanOf(values: readonly number[]): number {
  return sumOf(values) / values.length;
}

/**
 * The straight line through timed values by least squares, with the variance of a value about it. Values that lie on
 * a line by chance, because they were rounded, do not make it exact: the variance is at least that of the rounding.
 *
 * Source: ordinary least squares; Draper & Smith, Applied Regression Analysis, 3rd ed. 1998, ch. 1 (from memory).
 * Limits: three values or more, no two of one time; deviations that do not hang together in time.
 *
 * @param lastDigit the last digit to which the values were read: 0.01 for a tape
 * @param confidence of the interval of the slope, such as 0.95
 * @example fitLine([{ time: 0, value: 20 }, { time: 10, value: 20.5 }, { time: 20, value: 21 }], 0.01, 0.95) // slope 0.05
 */
export function fitLine(points: readonly TimedValue[], lastDigit: number, confidence: number): LineFit | Refusal {
  const unusable = unusablePoints(points, 3);
  if (unusable) return unusable;
  const degreesOfFreedom = points.length - 2;
  const t = studentQuantile(degreesOfFreedom, confidence);
  if (isRefusal(t)) return t;
  const meanTime = meanOf(points.map((point) => point.time));
  const meanValue = meanOf(points.map((point) => point.value));
  let [spreadOfTimes, together] = [0, 0];
  for (const { time, value } of points) {
    spreadOfTimes += (time - meanTime) ** 2;
    together += (time - meanTime) * (value - meanValue);
  }
  const slope = together / spreadOfTimes;
  const squares = points.map(({ time, value }) => (value - meanValue - slope * (time - meanTime)) ** 2);
  const variance = Math.max(sumOf(squares) / degreesOfFreedom, roundingVariance(lastDigit));
  const reach = t * Math.sqrt(variance / spreadOfTimes);
  return { slope, meanTime, meanValue, spreadOfTimes, variance, degreesOfFreedom, t, slopeReach: reach };
}

/** What the line says at a time. */
export function valueOnLine({ slope, meanTime, meanValue }: LineFit, time: number): number {
  return meanValue + slope * (time - meanTime);
}
