import { isRefusal, type Refusal } from '../refusal.ts';
import { kendallExactTail } from './kendall-exact.ts';
import { allAlike, type KendallScore, kendallScore } from './kendall-score.ts';
import { normalUpperTail } from './normal-tail.ts';

export const TREND_SIDES = ['two-sided', 'rising', 'falling'] as const;
export type TrendSide = (typeof TREND_SIDES)[number];

export interface MannKendall extends KendallScore {
  readonly distribution: 'exact' | 'normal';
  readonly side: TrendSide;
  /** With the continuity correction; null where the exact distribution was used. */
  readonly z: number | null;
  readonly p: number;
}

/** (S - 1) / sqrt(Var), (S + 1) / sqrt(Var) or 0: S goes in steps of two, so half a step is taken off. */
export function continuityZ(s: number, variance: number): number {
  return s === 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
}

/** From a z to a p in the sense that was asked for. */
export function normalP(z: number, side: TrendSide): number {
  if (side === 'two-sided') return Math.min(1, 2 * normalUpperTail(Math.abs(z)));
  return normalUpperTail(side === 'rising' ? z : -z);
}

function exactP({ count, tieSizes, s }: KendallScore, side: TrendSide): number | Refusal {
  const size = side === 'two-sided' ? Math.abs(s) : side === 'rising' ? s : -s;
  const tail = kendallExactTail({ count, tieSizes, s: size });
  return isRefusal(tail) || side !== 'two-sided' ? tail : Math.min(1, 2 * tail);
}

/**
 * The Mann-Kendall test for a trend that goes one way. Which distribution and which side are chosen by the caller and
 * come back with the answer: p means nothing without them.
 *
 * Source: US EPA, Unified Guidance, EPA 530/R-09-007, 2009, Example 17-6 (normal, ties, continuity); Gilbert 1987,
 * 16.4 (exact up to n = 10). Limits: independent values; a season in the data needs `seasonalKendall`; the exact
 * distribution up to 18 values. Below 10 values the normal one is only near.
 *
 * @param values earliest first; of values below a common limit see `belowCommonLimit`
 * @example mannKendall([1, 2, 3, 4, 5, 16, 7], { distribution: 'exact', side: 'rising' }) // s: 19, p: 7/5040 = 0.0014
 */
export function mannKendall(
  values: readonly number[],
  by: { readonly distribution: 'exact' | 'normal'; readonly side: TrendSide },
): MannKendall | Refusal {
  const score = kendallScore(values);
  if (isRefusal(score)) return score;
  const alike = allAlike(score);
  if (alike) return alike;
  if (by.distribution === 'normal') {
    const z = continuityZ(score.s, score.variance);
    return { ...score, ...by, z, p: normalP(z, by.side) };
  }
  const p = exactP(score, by.side);
  return isRefusal(p) ? p : { ...score, ...by, z: null, p };
}
