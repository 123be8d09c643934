const ZERO = 48;
const POINT = 46;
const MINUS = 45;

/** Digits after the point of a decimal string: 2 for "7.10". */
export function placesOf(text: string): number {
  const point = text.indexOf('.');
  return point < 0 ? 0 : text.length - point - 1;
}

/**
 * The digits of a decimal string as an integer: 710 for "7.10", -5 for "-0.05". Together with `placesOf` that is the
 * exact number; binary fractions are not: 7.23 - 7.13 is 0.10000000000000053 in them.
 *
 * @returns NaN for a text that is not a plain decimal; exact up to 15 digits
 */
export function digitsOf(text: string): number {
  const negative = text.charCodeAt(0) === MINUS;
  let digits = 0;
  for (let index = negative ? 1 : 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code === POINT) continue;
    const digit = code - ZERO;
    if (digit < 0 || digit > 9) return Number.NaN;
    digits = digits * 10 + digit;
  }
  return negative && digits !== 0 ? -digits : digits;
}

const POWERS = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000, 100_000_000, 1_000_000_000];

/** 10 to the power of a small whole number. */
export function powerOfTen(places: number): number {
  return POWERS[places] ?? 10 ** places;
}

/** A decimal string as an integer in units of 10 to the minus `places`: scaled('7.1', 2) is 710. */
export function scaled(text: string, places: number): number {
  return digitsOf(text) * powerOfTen(places - placesOf(text));
}

/** An integer in units of 10 to the minus `places` as a decimal string: unscaled(710, 2) is "7.10". */
export function unscaled(value: number | bigint, places: number): string {
  const negative = value < 0;
  const digits = String(negative ? -value : value).padStart(places + 1, '0');
  const whole = digits.slice(0, digits.length - places);
  const text = places === 0 ? whole : `${whole}.${digits.slice(digits.length - places)}`;
  return negative ? `-${text}` : text;
}
