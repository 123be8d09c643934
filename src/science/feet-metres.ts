import { placesOf, scaled } from './decimal-text.ts';
import { productAtMost } from './product-at-most.ts';

/** Whether a length in feet is at most one in metres, exactly: 1 ft = 0.3048 m. 0.328 ft is within 0.1 m, 0.329 is not. */
export function feetAtMostMetres(feet: string, metres: string): boolean {
  const places = Math.max(placesOf(feet), placesOf(metres));
  return productAtMost(scaled(feet, places), 3_048, scaled(metres, places), 10_000);
}
