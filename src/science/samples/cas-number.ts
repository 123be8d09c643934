const FORM = /^(\d{2,7})-(\d{2})-(\d)$/;

/**
 * Whether a CAS number has its form and the check digit that it must have: each digit before the last times its place,
 * counted from the right, summed, modulo 10.
 *
 * Source: CAS, Check Digit Verification of CAS Registry Numbers, from memory; water is 7732-18-5. Limits: a number with
 * the right digit may still be nobody's.
 *
 * @example isCasNumber('7732-18-5') // true
 */
export function isCasNumber(text: string): boolean {
  const [, first, second, check] = FORM.exec(text) ?? [];
  if (first === undefined || second === undefined) return false;
  const digits = [...`${first}${second}`].toReversed();
  const sum = digits.reduce((total, digit, index) => total + Number(digit) * (index + 1), 0);
  return sum % 10 === Number(check);
}
