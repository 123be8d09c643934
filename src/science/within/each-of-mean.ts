import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/**
 * Largest distance of a reading from the mean of the window, as a part of that mean.
 *
 * @param window readings above zero in millionths
 */
export function eachOfMean(window: readonly number[]): Ratio {
  const { smallest, largest, sum } = extent(window);
  const count = window.length;
  return { difference: Math.max(count * largest - sum, sum - count * smallest), base: sum };
}
