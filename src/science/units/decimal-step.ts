import { compare, type Fraction, fraction } from './fraction.ts';

/** 10 to a whole power, exactly. */
export function powerOfTen(exponent: number): Fraction {
  const size = 10n ** BigInt(Math.abs(exponent));
  return exponent < 0 ? fraction(1n, size) : fraction(size);
}

/**
 * The place of the last digit of a decimal string, as a power of ten: -2 for "1.50", 0 for "100". As entered, zeros at
 * the end count: who writes 1.50 has read to 0.01, and who writes 100 has read to 1.
 */
export function lastPlace(text: string): number {
  const point = text.indexOf('.');
  return point < 0 ? 0 : point + 1 - text.length;
}

/** The largest whole exponent e with 10^e at most `size`, exactly; size must be above zero. */
export function placeWithin(size: Fraction): number {
  let exponent = String(size.over).length - String(size.under).length;
  while (compare(powerOfTen(exponent), size) > 0) exponent -= 1;
  return exponent;
}
