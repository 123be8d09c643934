import type { AbsoluteArithmetic } from './arithmetic-names.ts';
import { type Ratio, ratioAtMost } from './ratio.ts';
import { absoluteBand } from './within/absolute-band.ts';
import { eachStep } from './within/each-step.ts';
import { totalSpread } from './within/total-spread.ts';

const RATIOS: Readonly<Record<AbsoluteArithmetic, (window: readonly number[]) => Ratio>> = {
  'total-spread': totalSpread,
  band: absoluteBand,
  'each-step': eachStep,
};

/** What an arithmetic sets against an absolute tolerance, in the unit of the window. */
export function absoluteCompared(arithmetic: AbsoluteArithmetic, window: readonly number[]): Ratio {
  return RATIOS[arithmetic](window);
}

/**
 * Whether a window is within an absolute tolerance; being exactly at it is within it: 7.23 and 7.13 are within 0.10.
 *
 * @param window readings, earliest first, in millionths (or ninths of them), each below 10^14
 * @param tolerance in the same unit
 */
export function withinAbsolute(arithmetic: AbsoluteArithmetic, window: readonly number[], tolerance: number): boolean {
  return ratioAtMost(absoluteCompared(arithmetic, window), { difference: tolerance, base: 1 });
}
