import { largerRatio, type Ratio } from '../ratio.ts';

/**
 * Largest step as a part of the reading before it. A slow drift in one direction passes it for ever:
 * 1.00, 0.90, 0.81 is 10 % at each step. Arithmetic found in practice; no guidance defines it.
 *
 * @param window readings above zero, earliest first, in millionths
 */
export function eachStepOfPrevious(window: readonly number[]): Ratio {
  let worst: Ratio = { difference: 0, base: 1 };
  let previous = 0;
  for (const reading of window) {
    if (previous > 0) worst = largerRatio(worst, { difference: Math.abs(reading - previous), base: previous });
    previous = reading;
  }
  return worst;
}
