import { ascending } from './readable-values.ts';

/**
 * The middle of some numbers, or the mean of the middle two. Infinite bounds are allowed; of none it is NaN, so callers
 * look at the length first.
 *
 * @example median([3, 1, 2, 10]) // 2.5
 */
export function median(values: readonly number[]): number {
  const sorted = ascending(values);
  const lower = sorted[Math.floor((sorted.length - 1) / 2)] ?? Number.NaN;
  const upper = sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
  return lower === upper ? lower : lower / 2 + upper / 2;
}
