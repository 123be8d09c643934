import { compareText } from '../units/decimal-arithmetic.ts';
import type { DrivePressure } from './drive-pressure.ts';

export interface PressuresWithinRating {
  /** Lowest first, cut at the rating. */
  readonly allowed: readonly DrivePressure[];
  /** Rules of which all or a part lies above the rating. */
  readonly cut: readonly DrivePressure['rule'][];
}

function lower(a: string, b: string): string {
  return compareText(a, b) <= 0 ? a : b;
}

/**
 * Drive pressures in rising order, and nothing above the rating of the weakest part: a rule that asks for more is cut at
 * the rating, or left out where all of it lies above. Compared in decimal; exactly the rating is within it.
 *
 * Source: common practice, no source. Limits: the figures are given as they will be shown, so that no rounding lifts one
 * over the rating.
 */
export function pressuresWithinRating(pressures: readonly DrivePressure[], maximumPsi: string): PressuresWithinRating {
  const rising = pressures.toSorted((a, b) => compareText(a.fromPsi, b.fromPsi));
  const allowed = rising
    .filter((one) => compareText(one.fromPsi, maximumPsi) <= 0)
    .map((one) => ({ ...one, toPsi: lower(one.toPsi, maximumPsi) }));
  const cut = rising.filter((one) => compareText(one.toPsi, maximumPsi) > 0).map((one) => one.rule);
  return { allowed, cut };
}
