import { largerRatio, type Ratio } from '../ratio.ts';

/**
 * Largest step as a part of the mean of its two readings, the "relative percent difference": 282 to 335 is 17.2 %
 * (a reviewer's sum in a Colorado state file, doc 794463, page 7).
 *
 * @param window readings above zero, earliest first, in millionths
 */
export function eachStepOfPairMean(window: readonly number[]): Ratio {
  let worst: Ratio = { difference: 0, base: 1 };
  let previous = 0;
  for (const reading of window) {
    const base = reading + previous;
    if (previous > 0) worst = largerRatio(worst, { difference: 2 * Math.abs(reading - previous), base });
    previous = reading;
  }
  return worst;
}
