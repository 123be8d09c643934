import { WELL_CLASSES, type WellClass } from '../../protocol/kinds/well.ts';
import { compare, decimalFraction, dividedBy, type Fraction } from '../../science/units/fraction.ts';
import { type Amount, amountOf } from './result-amount.ts';
import type { LastResult, WellLevel } from './well-level.ts';

/** How a well stands among those of a round. */
export interface WellRank {
  readonly well: string;
  /** Null where neither a class nor a result is known. */
  readonly class: WellClass | null;
  /** Whether the class is that of the office, or at least as bad as that of the results. */
  readonly isAssigned: boolean;
  /** Highest result as a multiple of its base, null without results; zero where nothing was detected. */
  readonly times: Fraction | null;
  /** The analyte that this multiple is of. */
  readonly analyte: string | null;
  /** Highest limit of what was not detected, as a multiple of its base: up to there it may be contaminated unseen. */
  readonly unseenTimes: Fraction | null;
}

const ZERO = decimalFraction('0');

/** Up to so many times the base a well is low, or medium. Decades; common practice, no source. */
const LOW_UP_TO = decimalFraction('10');
const MEDIUM_UP_TO = decimalFraction('100');

type Bases = ReadonlyMap<string, Fraction>;

function keyOf({ analyte, casNumber }: LastResult, { measure }: Amount): string {
  return `${casNumber ?? analyte.trim().toLowerCase()} ${measure}`;
}

/**
 * What each analyte is measured by in all wells alike: the limit of the plan, else its lowest reporting limit anywhere.
 * The limit of its own sample would make the dirtiest well look clean, for it rises with the dilution.
 */
function basesOf(levels: readonly WellLevel[]): Bases {
  const [limits, reporting] = [new Map<string, Fraction>(), new Map<string, Fraction>()];
  const lower = (map: Map<string, Fraction>, result: LastResult, text: string | null | undefined) => {
    const amount = amountOf(text, result.unit);
    if (!amount || amount.amount.over <= 0n) return;
    const key = keyOf(result, amount);
    const known = map.get(key);
    if (!known || compare(amount.amount, known) < 0) map.set(key, amount.amount);
  };
  for (const result of levels.flatMap(({ results }) => results)) {
    lower(limits, result, result.limit);
    lower(reporting, result, result.reportingLimit);
  }
  return new Map([...reporting, ...limits]);
}

function timesOf(result: LastResult, text: string | null | undefined, bases: Bases): Fraction | null {
  const amount = amountOf(text, result.unit);
  const base = amount ? bases.get(keyOf(result, amount)) : undefined;
  return amount && base ? dividedBy(amount.amount, base) : null;
}

interface Highest {
  readonly times: Fraction;
  readonly analyte: string | null;
}

function highest(found: readonly (Highest | null)[]): Highest | null {
  return found.reduce((a, b) => (a === null || (b !== null && compare(b.times, a.times) > 0) ? b : a), null);
}

function fromResults({ results }: WellLevel, bases: Bases): Pick<WellRank, 'times' | 'analyte' | 'unseenTimes'> {
  const seen = results.map((result): Highest | null => {
    if (result.condition === 'not-reported') return null;
    const isFound = result.condition === 'detected' || (result.condition === 'below-reporting-limit' && result.value);
    if (!isFound) return { times: ZERO, analyte: null };
    const times = timesOf(result, result.value, bases);
    return times && { times, analyte: result.analyte };
  });
  const unseen = results.map((result): Highest | null => {
    const times = result.condition === 'detected' ? null : timesOf(result, result.reportingLimit, bases);
    return times && { times, analyte: null };
  });
  const top = highest(seen);
  return { times: top?.times ?? null, analyte: top?.analyte ?? null, unseenTimes: highest(unseen)?.times ?? null };
}

function classOfTimes(times: Fraction | null): WellClass | null {
  if (times === null) return null;
  if (times.over === 0n) return 'clean';
  if (compare(times, LOW_UP_TO) <= 0) return 'low';
  return compare(times, MEDIUM_UP_TO) <= 0 ? 'medium' : 'high';
}

function classIndex(one: WellClass | null | undefined): number {
  return one ? WELL_CLASSES.indexOf(one) : -1;
}

/**
 * How contaminated each well is among the others: by its class where the office gave one, by the highest multiple of a
 * last result to what the analyte is measured by, and by the worse of both where they disagree.
 *
 * Source: wells are sampled from the least to the most contaminated, US EPA, RCRA Ground-Water Monitoring, Draft Technical
 * Guidance, Nov 1992, p. 7-18, read in a copy; the measure is common practice, no source.
 */
export function rankWells(levels: readonly WellLevel[]): ReadonlyMap<string, WellRank> {
  const bases = basesOf(levels);
  return new Map(
    levels.map((level) => {
      const measured = fromResults(level, bases);
      const byResults = classOfTimes(measured.times);
      const isAssigned = Boolean(level.assignedClass) && classIndex(level.assignedClass) >= classIndex(byResults);
      const worse = isAssigned ? (level.assignedClass ?? null) : byResults;
      return [level.well, { well: level.well, class: worse, isAssigned, ...measured }];
    }),
  );
}

/** A well of which nothing is known stands behind the clean and the lightly contaminated and before all others. */
const UNKNOWN_PLACE = 1.5;

function place({ class: of }: WellRank): number {
  return of === null ? UNKNOWN_PLACE : WELL_CLASSES.indexOf(of);
}

function compareTimes(a: Fraction | null, b: Fraction | null): number {
  return compare(a ?? ZERO, b ?? ZERO);
}

/**
 * Cleanest first. A well without history may be dirty, so it must not come before one in which a trace would show, and
 * it may be clean, so it must not come after one that leaves much behind. Zero: either may come first.
 */
export function compareRanks(a: WellRank, b: WellRank): number {
  return place(a) - place(b) || compareTimes(a.times, b.times) || compareTimes(a.unseenTimes, b.unseenTimes);
}
