const ZERO = 48;
const NINE = 57;
const POINT = 46;
const MINUS = 45;

const POWERS = [1_000_000, 100_000, 10_000, 1_000, 100, 10, 1];

/** Digits after the point of a decimal string: 2 for "7.10". */
export function placesOf(text: string): number {
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

/**
 * A measured decimal as a whole number of millionths: 7100000 for "7.10". The wire carries at most 9 digits before the
 * point and 6 after it, so every measurement is exact, and so are differences and comparisons. Binary fractions are
 * not: 7.23 - 7.13 is 0.10000000000000053 in them.
 *
 * @returns NaN for a text that is not a plain decimal, or has more than 6 digits after the point
 */
export function millionths(text: string): number {
  const negative = text.charCodeAt(0) === MINUS;
  let digits = 0;
  let places = -1;
  for (let index = negative ? 1 : 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code >= ZERO && code <= NINE) {
      digits = digits * 10 + code - ZERO;
      if (places >= 0) places += 1;
    } else if (code === POINT && places < 0) {
      places = 0;
    } else return Number.NaN;
  }
  const value = digits * (POWERS[Math.max(places, 0)] ?? Number.NaN);
  return negative && value !== 0 ? -value : value;
}

/** A whole number of units of 10 to the minus `places` as a decimal string: decimalText(710, 2) is "7.10". */
export function decimalText(value: number | bigint, places: number): string {
  if (places === 0) return String(value);
  const negative = value < 0;
  const digits = String(negative ? -value : value).padStart(places + 1, '0');
  const point = digits.length - places;
  return `${negative ? '-' : ''}${digits.slice(0, point)}.${digits.slice(point)}`;
}

/**
 * Millionths as a decimal string with so many places, which must be as many as the number needs.
 *
 * @throws RangeError for places other than 0 to 6: millionths have no more, and a text of other places would be another
 * number
 */
export function millionthsText(value: number, places: number): string {
  const power = POWERS[places];
  if (power === undefined) throw new RangeError(`millionths have 0 to 6 places, not ${places}; ask for so many`);
  return decimalText(value / power, places);
}
