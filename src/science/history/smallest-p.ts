import { isRefusal, type Refusal } from '../refusal.ts';
import { kendallExactTail } from './kendall-exact.ts';
import type { TrendSide } from './mann-kendall.ts';

/**
 * The smallest exact p that so many values can reach, however clearly they rise: 1/n! one-sided and 2/n! two-sided
 * without ties. Four values reach 2/24 = 0.083 two-sided, so they can never show a trend at 0.05; five reach 0.017.
 *
 * Source: arithmetic on the exact distribution of Kendall's S. Limits: 2 to 18 values; of more it is near nothing.
 *
 * @example smallestP({ count: 4, tieSizes: [], side: 'two-sided' }) // 0.0833
 */
export function smallestP(given: {
  readonly count: number;
  readonly tieSizes: readonly number[];
  readonly side: TrendSide;
}): number | Refusal {
  const pairs = (size: number) => (size * (size - 1)) / 2;
  const most = given.tieSizes.reduce((left, size) => left - pairs(size), pairs(given.count));
  const tail = kendallExactTail({ ...given, s: most });
  return isRefusal(tail) || given.side !== 'two-sided' ? tail : Math.min(1, 2 * tail);
}
