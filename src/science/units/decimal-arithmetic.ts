import { lastPlace } from './decimal-step.ts';
import { compare, decimalFraction, fraction, minus, plus, times } from './fraction.ts';
import { textAtPlace } from './fraction-text.ts';

/** The sum of two decimal strings, exact, with the places of the finer one: "39.14" and "0.3" make "39.44". */
export function sumText(a: string, b: string): string {
  return textAtPlace(plus(decimalFraction(a), decimalFraction(b)), Math.min(lastPlace(a), lastPlace(b)));
}

/** The difference of two decimal strings, exact: 64.52 less 49.90 is "14.62", which binary numbers miss. */
export function differenceText(a: string, b: string): string {
  return textAtPlace(minus(decimalFraction(a), decimalFraction(b)), Math.min(lastPlace(a), lastPlace(b)));
}

/** A decimal string rounded to a place, halves away from zero: "8.8061" at -2 is "8.81". */
export function roundedText(text: string, place: number): string {
  return textAtPlace(decimalFraction(text), place);
}

/** Below zero, zero or above zero, as a is below, at or above b; exactly, so that 2.00 is not less than 2. */
export function compareText(a: string, b: string): number {
  return compare(decimalFraction(a), decimalFraction(b));
}

/** The product of two decimal strings, exact: 0.33 and 0.83 make "0.2739". */
export function productText(a: string, b: string): string {
  return textAtPlace(times(decimalFraction(a), decimalFraction(b)), lastPlace(a) + lastPlace(b));
}

/** The middle of two decimal strings, exact, so with one place more where it is needed: 20.1 and 30.0 meet at "25.05". */
export function middleText(a: string, b: string): string {
  const middle = times(plus(decimalFraction(a), decimalFraction(b)), fraction(1n, 2n));
  const place = Math.min(lastPlace(a), lastPlace(b));
  const coarse = textAtPlace(middle, place);
  return compare(decimalFraction(coarse), middle) === 0 ? coarse : textAtPlace(middle, place - 1);
}
