import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/** Largest minus smallest. The strictest way to read "within 0.1 pH"; fits "three consecutive readings within". */
export function totalSpread(window: readonly number[]): Ratio {
  const { smallest, largest } = extent(window);
  return { difference: largest - smallest, base: 1 };
}
