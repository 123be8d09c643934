import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/**
 * Largest distance of a later reading from the first one, as a part of the first.
 *
 * @param window at least one reading, all above zero, earliest first, in millionths
 */
export function laterOfFirst(window: readonly number[]): Ratio {
  const { smallest, largest, first } = extent(window);
  return { difference: Math.max(largest - first, first - smallest), base: first };
}
