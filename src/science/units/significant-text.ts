import { Decimal } from 'decimal.js';

/**
 * A computed number as a decimal string with so many significant digits, halves away from zero: 28.634 with 3 is "28.6",
 * 5678 with 2 is "5700". Zero is "0".
 *
 * @example significantText(2.0, 3) // "2.00"
 */
export function significantText(value: number, digits: number): string {
  const rounded = new Decimal(value).toSignificantDigits(digits, Decimal.ROUND_HALF_UP);
  return rounded.isZero() ? '0' : rounded.toFixed(Math.max(0, digits - 1 - rounded.e));
}

/** A computed number as a decimal string with so many places, halves away from zero; never "-0.00". */
export function placesText(value: number, places: number): string {
  const text = new Decimal(value).toFixed(places, Decimal.ROUND_HALF_UP);
  return Number(text) === 0 ? text.replace('-', '') : text;
}
