import { powerOfTen } from './decimal-text.ts';

/**
 * Rounds a whole number at one decimal position to fewer places, halves away from zero, as meters and people do:
 * 925 (9.25) to one place is 93 (9.3). At its own or more places it stays the number it is.
 *
 * @returns a whole number at `toPlaces`, or at `places` where that is fewer
 */
export function roundHalfAway(digits: number, places: number, toPlaces: number): number {
  if (toPlaces >= places) return digits;
  const step = powerOfTen(places - toPlaces);
  const size = Math.abs(digits);
  const rest = size % step;
  const rounded = (size - rest) / step + (2 * rest >= step ? 1 : 0);
  return digits < 0 && rounded !== 0 ? -rounded : rounded;
}
