import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/**
 * Largest minus smallest, as a part of the smallest. For values above zero it implies all seven arithmetics: with every
 * value between smallest and largest, each of them divides a difference of at most largest - smallest by at least
 * smallest. It is nobody's criterion, and is shown as advice.
 *
 * @param window readings above zero in millionths
 */
export function spreadOverSmallest(window: readonly number[]): Ratio {
  const { smallest, largest } = extent(window);
  return { difference: largest - smallest, base: smallest };
}
