import { decimalText, millionths } from './millionths.ts';
import { productAtMost } from './product-at-most.ts';

/** A quotient of two whole numbers, the base above zero, kept undivided so that it is compared exactly. */
export interface Ratio {
  readonly difference: number;
  readonly base: number;
}

export function ratioAtMost(ratio: Ratio, limit: Ratio): boolean {
  return productAtMost(ratio.difference, limit.base, limit.difference, ratio.base);
}

export function largerRatio(first: Ratio, second: Ratio): Ratio {
  return ratioAtMost(first, second) ? second : first;
}

function commonDivisor(a: number, b: number): number {
  return b === 0 ? a : commonDivisor(b, a % b);
}

const WHOLE = 100_000_000;

/** A percentage as a ratio in lowest terms, which keeps products small: "3" is 3/100, "10" is 1/10, "2.5" is 1/40. */
export function percentRatio(percent: string): Ratio {
  const part = millionths(percent);
  const divisor = commonDivisor(WHOLE, part);
  return { difference: part / divisor, base: WHOLE / divisor };
}

/** The smallest whole number at or above a * b / c, exactly. */
export function quotientRoundedUp(a: number, b: number, c: number): number | bigint {
  const product = a * b;
  if (!Number.isSafeInteger(product)) return (BigInt(a) * BigInt(b) + BigInt(c) - 1n) / BigInt(c);
  const rest = product % c;
  return (product - rest) / c + (rest > 0 ? 1 : 0);
}

/**
 * A ratio as a decimal string, rounded up in its last digit, so that a figure which fails its limit never reads as if it
 * passed: 10.004 % is shown as 10.01 with two places.
 *
 * @param factor 100 for percent, 1 for the ratio itself
 */
export function ratioRoundedUp(ratio: Ratio, factor: number, places: number): string {
  return decimalText(quotientRoundedUp(ratio.difference, factor * 10 ** places, ratio.base), places);
}
