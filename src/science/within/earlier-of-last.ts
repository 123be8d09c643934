import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/**
 * Largest distance of an earlier reading from the last one, as a part of the last.
 *
 * @param window at least one reading, all above zero, earliest first, in millionths
 */
export function earlierOfLast(window: readonly number[]): Ratio {
  const { smallest, largest, last } = extent(window);
  return { difference: Math.max(largest - last, last - smallest), base: last };
}
