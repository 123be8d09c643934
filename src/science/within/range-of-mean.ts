import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/**
 * Largest minus smallest, as a part of the mean of the window. Fits "three consecutive readings within 10 %".
 *
 * @param window readings above zero in millionths
 */
export function rangeOfMean(window: readonly number[]): Ratio {
  const { smallest, largest, sum } = extent(window);
  return { difference: (largest - smallest) * window.length, base: sum };
}
