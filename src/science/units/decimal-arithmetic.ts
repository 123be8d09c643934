import { lastPlace } from './decimal-step.ts';
import { decimalFraction, minus, plus } from './fraction.ts';
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
