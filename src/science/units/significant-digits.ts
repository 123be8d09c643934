/**
 * How many digits of a decimal string are significant as entered: 3 in "1.50", 3 in "100", 2 in "0.050". Zeros before
 * the first other digit only place the point. A zero has none, however many places it was read to.
 *
 * Source: NIST SP 811, 2008 edition, appendix B.7 (rounding), from memory; that whole numbers are taken as read to 1 is
 * our own reading of "as entered".
 *
 * @example significantDigits('1.50') // 3
 */
export function significantDigits(text: string): number {
  return text.replace(/^-/, '').replace('.', '').replace(/^0+/, '').length;
}
