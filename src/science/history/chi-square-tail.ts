import { normalUpperTail } from './normal-tail.ts';

/**
 * P(chi-square > x) with a whole number of degrees of freedom, as a finite sum.
 *
 * Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 1964, 26.4.4 (odd) and 26.4.5 (even), from memory;
 * checked against a general-purpose library. Limits: x at or above 0, degrees of freedom from 1.
 *
 * @example chiSquareUpperTail(3.841459, 1) // 0.05
 */
export function chiSquareUpperTail(x: number, degreesOfFreedom: number): number {
  const odd = degreesOfFreedom % 2 === 1;
  const root = Math.sqrt(x);
  let term = odd ? Math.sqrt(2 / Math.PI) * root * Math.exp(-x / 2) : Math.exp(-x / 2);
  let sum = odd ? 2 * normalUpperTail(root) : 0;
  for (let divisor = odd ? 3 : 2; divisor <= degreesOfFreedom + (odd ? 1 : 0); divisor += 2) {
    sum += term;
    term *= x / divisor;
  }
  return sum;
}
