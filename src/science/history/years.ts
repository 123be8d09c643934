import { instantMs } from '../instant-ms.ts';

/** A year of 365.25 days, so that a slope per year does not depend on how many leap days the record has. */
export const DAYS_PER_YEAR = 365.25;
const MS_PER_YEAR = DAYS_PER_YEAR * 86_400_000;

/**
 * Years between two instants, for the time coordinate of a trend.
 *
 * Source: definition (Julian year). The published table of Unified Guidance Example 17-6 writes a month as a decimal
 * digit: "89.6" is June 1989, not 0.6 of the year.
 *
 * @param from instant such as 1989-06-01T00:00:00Z
 * @example yearsBetween('2020-01-01T00:00:00Z', '2024-01-01T00:00:00Z') // 4
 */
export function yearsBetween(from: string, to: string): number {
  return (instantMs(to) - instantMs(from)) / MS_PER_YEAR;
}
