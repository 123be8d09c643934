import { type Refusal, refuse } from '../refusal.ts';
import { compare, decimalFraction, dividedBy, type Fraction, fraction, minus, plus, times } from '../units/fraction.ts';
import { textAtPlace } from '../units/fraction-text.ts';
import { unreadable } from '../units/unreadable.ts';

function size(value: Fraction): Fraction {
  return value.over < 0n ? { over: -value.over, under: value.under } : value;
}

function exactRpd(first: string, second: string): Fraction | null {
  const sum = plus(decimalFraction(first), decimalFraction(second));
  if (sum.over <= 0n) return null;
  const difference = size(minus(decimalFraction(first), decimalFraction(second)));
  return dividedBy(times(difference, fraction(200n)), sum);
}

export interface RelativeDifference {
  /** In percent, to two places; comparisons are made with the exact number. */
  readonly percent: string;
  /** Whether it is at or below the limit. */
  readonly within: boolean;
}

/**
 * Relative percent difference of two results: RPD = 100 |A - B| / ((A + B) / 2).
 *
 * Source: a contract's clause on field quality control (100 times range over mean), read in a copy. Limits: results of 0
 * or more, not both 0.
 *
 * @example relativePercentDifference('10', '12', '30') // 18.18, within
 */
export function relativePercentDifference(
  first: string,
  second: string,
  limitPercent: string,
): RelativeDifference | Refusal {
  const unread = unreadable({ 'first result': first, 'second result': second, 'limit in percent': limitPercent });
  if (unread) return unread;
  if (first.startsWith('-') || second.startsWith('-'))
    return refuse(`Results of ${first} and ${second} have no relative difference: give both as 0 or more.`);
  const exact = exactRpd(first, second);
  if (exact === null)
    return refuse('Two results of 0 have no relative difference: compare them with the reporting limit.');
  return { percent: textAtPlace(exact, -2), within: compare(exact, decimalFraction(limitPercent)) <= 0 };
}
