/**
 * A measured decimal as a whole number of millionths, so that sums and comparisons are exact: the wire carries at most
 * 9 digits before the point and 6 after it, and 10^15 is a whole number that a double has exactly.
 */
export function millionths(decimal: string): number {
  return Math.round(Number(decimal) * 1e6);
}

/** The shortest decimal text of a number of millionths. */
export function decimalText(value: number): string {
  return (value / 1e6).toFixed(6).replace(/\.?0+$/, '');
}
