import type { Ratio } from '../ratio.ts';
import { extent } from './extent.ts';

/**
 * Half-width of the narrowest band that holds the window, as a part of its centre. Some centre c has every reading
 * between c (1 - p) and c (1 + p) exactly when largest / smallest <= (1 + p) / (1 - p), that is when
 * (largest - smallest) / (largest + smallest) <= p. Fits "within plus or minus 10 %".
 *
 * @param window readings above zero in millionths
 */
export function band(window: readonly number[]): Ratio {
  const { smallest, largest } = extent(window);
  return { difference: largest - smallest, base: largest + smallest };
}
