import { millionths } from './millionths.ts';
import { productAtMost } from './product-at-most.ts';

/** Whether a length in feet is at most one in metres, exactly: 1 ft = 0.3048 m. 0.328 ft is within 0.1 m, 0.329 is not. */
export function feetAtMostMetres(feet: string, metres: string): boolean {
  return productAtMost(millionths(feet), 3_048, millionths(metres), 10_000);
}
