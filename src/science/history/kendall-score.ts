import { type Refusal, refuse } from '../refusal.ts';
import { unusableRow } from './readable-values.ts';

export interface KendallScore {
  readonly count: number;
  /** Pairs that rise less pairs that fall. */
  readonly s: number;
  /** How many values are alike, group by group; values that stand alone are not listed. */
  readonly tieSizes: readonly number[];
  /** Of S where there is no trend, corrected for ties. */
  readonly variance: number;
  /** S over all pairs (tau a). */
  readonly tauA: number;
  /** S over the pairs that could rise or fall (tau b); null where all values are alike. */
  readonly tauB: number | null;
}

function tieSizes(values: readonly number[]): number[] {
  const sizes = new Map<number, number>();
  for (const value of values) sizes.set(value, (sizes.get(value) ?? 0) + 1);
  return [...sizes.values()].filter((size) => size > 1);
}

function scoreOf(values: readonly number[]): number {
  return values.reduce(
    (sum, later, at) => values.slice(0, at).reduce((so, earlier) => so + Math.sign(later - earlier), sum),
    0,
  );
}

function spreadTerm(count: number): number {
  return count * (count - 1) * (2 * count + 5);
}

/**
 * Kendall's S of values in the order of time, its variance with the correction for ties, and tau.
 *
 * Var(S) = [n(n-1)(2n+5) - sum t(t-1)(2t+5)] / 18. Only the order of the values counts: a logarithm changes nothing, nor
 * does how the times are spaced. Two values of one time have no order: which of them counts is decided before.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 17-6 (section 17.3.2, from memory); Gilbert 1987, Statistical Methods for
 * Environmental Pollution Monitoring, 16.4 (from memory).
 *
 * @param values earliest first
 * @example kendallScore([1, 2, 3, 4, 5, 16, 7]) // s: 19, tauA: 0.905
 */
export function kendallScore(values: readonly number[]): KendallScore | Refusal {
  const unusable = unusableRow(values, 2);
  if (unusable) return unusable;
  const count = values.length;
  const ties = tieSizes(values);
  const s = scoreOf(values);
  const pairs = (count * (count - 1)) / 2;
  const tied = ties.reduce((sum, size) => sum + (size * (size - 1)) / 2, 0);
  const variance = (spreadTerm(count) - ties.reduce((sum, size) => sum + spreadTerm(size), 0)) / 18;
  const tauB = pairs === tied ? null : s / Math.sqrt(pairs * (pairs - tied));
  return { count, s, tieSizes: ties, variance, tauA: s / pairs, tauB };
}

/** Where every value is alike there is nothing to test: no order can be told from chance. */
export function allAlike({ variance }: KendallScore): Refusal | undefined {
  return variance > 0 ? undefined : refuse('All values are alike: there is neither a trend nor a chance of one.');
}
