import { WELL_CLASSES } from '../../protocol/kinds/well.ts';
import { compare, decimalFraction, dividedBy, type Fraction, times } from '../../science/units/fraction.ts';
import { compareRanks, type WellRank } from './well-rank.ts';

/** By how much the next well must be cleaner to matter, where the plan says nothing. Common practice, no source. */
export const DEFAULT_DIRTIER_FACTOR = '10';

export interface Dirtier {
  /** By the results, by the class that the office gave, or because of the next well nothing is known. */
  readonly by: 'results' | 'class' | 'not-known';
  /** In words: "120 times the base in tetrachloroethene". */
  readonly how: string;
}

const ONE = decimalFraction('1');

/** Below its base a result is no measure: what is not found there may be just below. */
function atLeastOne(one: Fraction): Fraction {
  return compare(one, ONE) < 0 ? ONE : one;
}

function wholeText({ over, under }: Fraction): string {
  const tenths = (over * 10n) / under;
  return tenths >= 100n ? String(tenths / 10n) : `${tenths / 10n}.${tenths % 10n}`;
}

function classesText(before: WellRank, next: WellRank): string {
  return `${before.class} before ${next.class}`;
}

/**
 * Whether a well leaves behind it what may show in the next: more than so many times as contaminated, or of a worse
 * class. What stands in the order that is proposed is never so.
 *
 * Sources: cleanest first, US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-18, read in a
 * copy; the factor is common practice, no source.
 */
export function dirtierThan(before: WellRank, next: WellRank, factor: string): Dirtier | null {
  if (compareRanks(before, next) <= 0 || before.class === null) return null;
  if (next.class === null) return { by: 'not-known', how: `${before.class} before a well of which nothing is known` };
  const [a, b] = [before.times, next.times];
  if (a !== null && b !== null && compare(a, times(atLeastOne(b), decimalFraction(factor))) > 0)
    return { by: 'results', how: `${wholeText(dividedBy(a, atLeastOne(b)))} times as much (${before.analyte})` };
  const isWorse = WELL_CLASSES.indexOf(before.class) > WELL_CLASSES.indexOf(next.class);
  const byClass = before.isAssigned || next.isAssigned || a === null || b === null;
  return isWorse && byClass ? { by: 'class', how: classesText(before, next) } : null;
}
