import { type Refusal, refuse } from '../refusal.ts';
import { median } from './median.ts';
import { unusableRow } from './readable-values.ts';

/** Beyond it, Iglewicz & Hoaglin 1993 call a value a possible outlier. */
export const MODIFIED_Z_LIMIT = 3.5;
/** Makes the MAD of normal values as large as their standard deviation. Iglewicz & Hoaglin 1993. */
const NORMAL_SHARE = 0.6745;

export interface RobustCentre {
  readonly median: number;
  /** Median distance from the median. */
  readonly mad: number;
}

export function robustCentre(values: readonly number[]): RobustCentre | Refusal {
  const unusable = unusableRow(values, 1);
  if (unusable) return unusable;
  const middle = median(values);
  return { median: middle, mad: median(values.map((value) => Math.abs(value - middle))) };
}

/**
 * Modified z of a value: 0.6745 (x - median) / MAD. Unlike the usual z, wild values do not widen the scale by which they
 * are judged.
 *
 * Where at least half of the values are alike the MAD is 0 and every other value would be infinitely far: refused, and
 * the caller says by what else it judges.
 *
 * Source: Iglewicz & Hoaglin 1993, How to Detect and Handle Outliers; limit 3.5.
 *
 * @example modifiedZ({ median: 49.75, mad: 36.85 }, 275) // 4.12
 */
export function modifiedZ({ median: middle, mad }: RobustCentre, value: number): number | Refusal {
  if (mad === 0)
    return refuse(
      `At least half of the values are ${middle}: their MAD is 0 and no distance can be told in it. Give a least difference that matters.`,
    );
  return (NORMAL_SHARE * (value - middle)) / mad;
}
