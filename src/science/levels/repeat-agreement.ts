import { type Refusal, refuse } from '../refusal.ts';
import { compareText, differenceText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

export interface RepeatAgreement {
  readonly agree: boolean;
  /** The last two readings as they differ, without sign. */
  readonly differenceFt: string;
  /** The reading that counts: the last one; null while they do not agree. */
  readonly depthFt: string | null;
}

function without(sign: string): string {
  return sign.replace('-', '');
}

/**
 * Whether repeated depths to water agree: the last two within a tolerance, exactly at it included. One that disagrees is
 * not averaged away: the level is measured until two in a row agree, for a level that still moves never does.
 *
 * Source: repeat agrees to 0.01 or 0.02 ft (county file, doc 600482, page 293); repeat until two agree exactly or to the
 * tolerance, usually 0.01 ft (county file, doc 919545, page 367, Army depot SOP-011).
 *
 * @param depthsFt in the order in which they were read
 * @example repeatAgreement(['23.47', '23.45', '23.46'], '0.01') // agree, 23.46
 */
export function repeatAgreement(depthsFt: readonly string[], toleranceFt: string): RepeatAgreement | Refusal {
  const unread = unreadable({ 'tolerance in feet': toleranceFt, ...named(depthsFt) });
  if (unread) return unread;
  const [before, last] = depthsFt.slice(-2);
  if (before === undefined || last === undefined)
    return refuse('One reading cannot agree with itself: measure the depth to water a second time.');
  if (compareText(toleranceFt, '0') < 0) return refuse(`A tolerance of ${toleranceFt} ft is below 0: give 0 or more.`);
  const differenceFt = without(differenceText(last, before));
  const agree = compareText(differenceFt, toleranceFt) <= 0;
  return { agree, differenceFt, depthFt: agree ? last : null };
}

function named(depthsFt: readonly string[]): Record<string, string> {
  return Object.fromEntries(depthsFt.map((depth, at) => [`depth ${at + 1} in feet`, depth]));
}
