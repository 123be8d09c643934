import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/** Half of largest minus smallest: some centre has every reading this near. Fits "within plus or minus 0.1 pH". */
export function absoluteBand(window: readonly number[]): Ratio {
  const { smallest, largest } = extent(window);
  return { difference: largest - smallest, base: 2 };
}
