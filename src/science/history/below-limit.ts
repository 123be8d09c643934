import { type Refusal, refuse } from '../refusal.ts';
import { unusableRow } from './readable-values.ts';

/** A value that was measured, or that lies somewhere below a limit ("< 5"). */
export interface Reported {
  /** What was measured; of a non-detect its limit. */
  readonly value: number;
  readonly nonDetect: boolean;
}

export interface BelowCommonLimit {
  /** Values whose order can be tested: whatever may lie below the common limit is alike, and below all others. */
  readonly ordered: readonly number[];
  /** The highest limit of a non-detect; null where everything was measured. */
  readonly limit: number | null;
  readonly nonDetects: number;
  /** Measured values that lie below the common limit and so cannot be told from the non-detects. */
  readonly measuredBelow: number;
}

/**
 * Makes a row with non-detects fit for a test of order: everything below the highest limit is one group of ties. A
 * falling limit would otherwise read as a falling concentration; nothing is put in the place of a non-detect.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, section 17.3.2, non-detects as ties below a common limit (from memory);
 * with several limits the highest one counts, Helsel 2012, Statistics for Censored Environmental Data (from memory).
 *
 * @example belowCommonLimit([{ value: 5, nonDetect: true }, { value: 3, nonDetect: false }, { value: 7, nonDetect: false }])
 * // ordered: [2, 2, 7]: the first two alike, the third above them
 */
export function belowCommonLimit(reported: readonly Reported[]): BelowCommonLimit | Refusal {
  const unusable = unusableRow(
    reported.map((one) => one.value),
    1,
  );
  if (unusable) return unusable;
  const limits = reported.filter((one) => one.nonDetect).map((one) => one.value);
  const limit = limits.length === 0 ? null : Math.max(...limits);
  const below = (one: Reported) => limit !== null && (one.nonDetect || one.value < limit);
  const least = Math.min(...reported.map((one) => one.value)) - 1;
  return {
    ordered: reported.map((one) => (below(one) ? least : one.value)),
    limit,
    nonDetects: limits.length,
    measuredBelow: reported.filter((one) => !one.nonDetect && below(one)).length,
  };
}

/** Above this share of non-detects a Sen slope is doubtful. Common practice, no source. */
export const MOST_NON_DETECTS_PERCENT = 20;

export function tooManyNonDetects(reported: readonly Reported[]): Refusal | undefined {
  const { length } = reported.filter((one) => one.nonDetect);
  return length * 100 > reported.length * MOST_NON_DETECTS_PERCENT
    ? refuse(
        `${length} of ${reported.length} values are non-detects, more than ${MOST_NON_DETECTS_PERCENT} %: a slope through them would be made of the limits.`,
      )
    : undefined;
}
