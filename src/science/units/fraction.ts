/** A quotient of two whole numbers in lowest terms, the lower one above zero: exact, of any size. */
export interface Fraction {
  readonly over: bigint;
  readonly under: bigint;
}

const PLAIN_DECIMAL = /^-?\d+(?:\.\d+)?$/;

function commonDivisor(a: bigint, b: bigint): bigint {
  return b === 0n ? a : commonDivisor(b, a % b);
}

/** @throws RangeError where the lower number is zero: a factor of the tables is wrong, no measurement leads here */
export function fraction(over: bigint, under = 1n): Fraction {
  if (under === 0n) throw new RangeError(`${over} / 0 is no number: correct the factor that was divided by`);
  const sign = under < 0n ? -1n : 1n;
  const divisor = commonDivisor(over < 0n ? -over : over, under * sign);
  return { over: (over * sign) / divisor, under: (under * sign) / divisor };
}

export function isPlainDecimal(text: string): boolean {
  return PLAIN_DECIMAL.test(text);
}

/**
 * A decimal string as the fraction that it is: "0.3048" is 381/1250.
 *
 * @throws SyntaxError for anything else; ask `isPlainDecimal` first where the text comes from a person
 */
export function decimalFraction(text: string): Fraction {
  if (!isPlainDecimal(text)) throw new SyntaxError(`"${text}" is no plain decimal such as "0.3048"`);
  const point = text.indexOf('.');
  const places = point < 0 ? 0 : text.length - point - 1;
  return fraction(BigInt(text.replace('.', '')), 10n ** BigInt(places));
}

export function plus(a: Fraction, b: Fraction): Fraction {
  return fraction(a.over * b.under + b.over * a.under, a.under * b.under);
}

export function minus(a: Fraction, b: Fraction): Fraction {
  return plus(a, { over: -b.over, under: b.under });
}

export function times(a: Fraction, b: Fraction): Fraction {
  return fraction(a.over * b.over, a.under * b.under);
}

export function dividedBy(a: Fraction, b: Fraction): Fraction {
  return fraction(a.over * b.under, a.under * b.over);
}

/** Below zero, zero or above zero, as a is below, at or above b. */
export function compare(a: Fraction, b: Fraction): number {
  const difference = a.over * b.under - b.over * a.under;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

/** The nearest binary number, for physics. */
export function asNumber(a: Fraction): number {
  return Number(a.over) / Number(a.under);
}
