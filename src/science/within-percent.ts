import type { PercentArithmetic } from './arithmetic-names.ts';
import { type Ratio, ratioAtMost } from './ratio.ts';
import { band } from './within/band.ts';
import { eachOfMean } from './within/each-of-mean.ts';
import { eachStepOfPairMean } from './within/each-step-of-pair-mean.ts';
import { eachStepOfPrevious } from './within/each-step-of-previous.ts';
import { earlierOfLast } from './within/earlier-of-last.ts';
import { laterOfFirst } from './within/later-of-first.ts';
import { rangeOfMean } from './within/range-of-mean.ts';
import { spreadOverSmallest } from './within/spread-over-smallest.ts';

const RATIOS: Readonly<Record<PercentArithmetic | 'spread-over-smallest', (window: readonly number[]) => Ratio>> = {
  'each-step-of-previous': eachStepOfPrevious,
  'each-step-of-pair-mean': eachStepOfPairMean,
  'range-of-mean': rangeOfMean,
  band,
  'each-of-mean': eachOfMean,
  'earlier-of-last': earlierOfLast,
  'later-of-first': laterOfFirst,
  'spread-over-smallest': spreadOverSmallest,
};

/**
 * What an arithmetic sets against the tolerance: 0.094 for 1.00, 0.95, 0.91 by the range over the mean.
 *
 * @param window 2 to 9 readings, earliest first, in millionths (or ninths of them), each below 10^14
 * @returns null where a reading is zero or negative: a part of nothing, or of a negative number, has no meaning
 */
export function percentCompared(
  arithmetic: PercentArithmetic | 'spread-over-smallest',
  window: readonly number[],
): Ratio | null {
  for (const reading of window) if (reading <= 0) return null;
  return RATIOS[arithmetic](window);
}

/** Whether a window is within a percentage; being exactly at the tolerance is within it. */
export function withinPercent(
  arithmetic: PercentArithmetic | 'spread-over-smallest',
  window: readonly number[],
  tolerance: Ratio,
): boolean {
  const compared = percentCompared(arithmetic, window);
  return compared !== null && ratioAtMost(compared, tolerance);
}
