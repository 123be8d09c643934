import type { CheckLimitSet } from '../../catalog/calibration/check-limit-set.ts';
import { PARAMETER_NAMES, type Parameter } from '../../catalog/parameters.ts';
import { compareText } from '../../science/units/decimal-arithmetic.ts';
import { isPlainDecimal } from '../../science/units/fraction.ts';
import { type Around, aroundReading, shownTime } from './around-reading.ts';
import { type CalibrationCheck, orderMs } from './check.ts';
import type { CheckOptions } from './deviation.ts';
import { type Round, roundsOf } from './rounds.ts';

/** A field value that checks have to vouch for. */
export interface MeterReading {
  readonly id: string;
  readonly meter: string;
  readonly parameter: Parameter;
  readonly at: string;
  readonly ms?: number | undefined;
  /** Null where only the time is asked about. */
  readonly value: string | null;
  readonly turbidityUnit?: 'NTU' | 'FNU' | undefined;
}

export interface BracketOptions extends CheckOptions {
  /** How long a round vouches, in hours; standards of an older one do not widen what is covered. Default: 24 */
  readonly longestH?: number | undefined;
}

export interface Bracketed {
  readonly reading: string;
  /** Pending: no check after it yet. In question: a reason stands against it, which a person reviews. */
  readonly standing: 'covered' | 'pending' | 'in-question';
  readonly reasons: readonly string[];
  /** Times of the rounds around it, as entered. */
  readonly before: string | null;
  readonly after: string | null;
  /** Smallest and largest standard that vouch for it; null where value does not count. */
  readonly span: { readonly least: string; readonly most: string } | null;
}

/** Oxygen has its saturation and its zero, ORP one solution: only these have standards to lie between. */
const SPANNED: readonly Parameter[] = ['ph', 'specific-conductance', 'turbidity'];

/** Why the round before does not vouch; undefined where it does. */
function againstBefore({ before, start }: Around): string | undefined {
  if (before === undefined) return 'No check or calibration of this meter is recorded before it.';
  if (start === 'failed') return `The last check before it, at ${shownTime(before)}, failed.`;
  if (start === 'cannot-tell') return `The check before it, at ${shownTime(before)}, cannot be judged.`;
  if (start === 'not-checked-since-calibration')
    return `The meter was calibrated at ${shownTime(before)} and not checked before this reading.`;
  return undefined;
}

/** Why the round after does not vouch; undefined where it does, or where there is none yet. */
function againstAfter({ after, end, lastPass }: Around): string | undefined {
  if (after === undefined || end === 'passed') return undefined;
  if (end === 'cannot-tell') return `The check after it, at ${shownTime(after)}, cannot be judged.`;
  if (end === 'calibrated-again')
    return `The meter was calibrated again at ${shownTime(after)} without a check before: nothing shows that it was still right.`;
  const back =
    lastPass === undefined ? '' : `, and so is every reading back to ${shownTime(lastPass)}, when it last passed`;
  return `The check after it, at ${shownTime(after)}, failed: this reading is in question${back}.`;
}

function spanOf(era: readonly Round[]): Bracketed['span'] {
  const standards = era.flatMap((round) => round.standards).toSorted(compareText);
  const [least, most] = [standards[0], standards.at(-1)];
  return least === undefined || most === undefined ? null : { least, most };
}

type FieldValue = Pick<MeterReading, 'parameter' | 'value' | 'turbidityUnit'>;

function againstValue({ parameter, value }: FieldValue, span: Bracketed['span']): string | undefined {
  const { name, unit } = PARAMETER_NAMES[parameter];
  const shownUnit = parameter === 'turbidity' ? '' : ` ${unit}`;
  if (value === null || span === null) return undefined;
  if (!isPlainDecimal(value)) return `${name} "${value}" is no plain decimal.`;
  if (compareText(value, span.least) >= 0 && compareText(value, span.most) <= 0) return undefined;
  return `${name} ${value}${shownUnit} is outside the standards that passed, ${span.least} to ${span.most}.`;
}

function otherUnit({ turbidityUnit }: FieldValue, { era }: Around): string | undefined {
  const units = era.flatMap((round) => round.checks.flatMap(({ check }) => check.turbidityUnit ?? []));
  const other = turbidityUnit === undefined ? undefined : units.find((unit) => unit !== turbidityUnit);
  if (other === undefined) return undefined;
  return `The reading is in ${turbidityUnit} and a standard was read in ${other}: the two are never compared.`;
}

interface ValueSays {
  readonly against: readonly string[];
  readonly remarks: readonly string[];
}

/** A value outside the standards stands against a reading only where the document asks, and no check can mend it. */
function valueSays(outside: string | undefined, { after }: Around, set: CheckLimitSet): ValueSays {
  if (outside === undefined) return { against: [], remarks: [] };
  if (set.span === 'unsaid')
    return { against: [], remarks: [`${outside} ${set.document} is not known to ask for it.`] };
  if (after === undefined)
    return { against: [], remarks: [`${outside} A standard beyond it in the check after it would cover it.`] };
  return { against: [outside], remarks: [] };
}

/**
 * Why no standard that passed lies beyond a value though checks stand around it in time; undefined where one does, or
 * where the document does not ask for it.
 */
export function outsideStandards(value: FieldValue, place: Around, set: CheckLimitSet): string | undefined {
  if (!SPANNED.includes(value.parameter) || otherUnit(value, place) !== undefined) return undefined;
  return valueSays(againstValue(value, spanOf(place.era)), place, set).against[0];
}

const PENDING = 'No check after it is recorded yet: check the meter before it is calibrated again.';

function standingOf(against: readonly string[], after: Round | undefined): Bracketed['standing'] {
  if (against.length > 0) return 'in-question';
  return after === undefined ? 'pending' : 'covered';
}

function bracketed(
  reading: MeterReading,
  rounds: readonly Round[],
  set: CheckLimitSet,
  longestH: number | undefined,
): Bracketed {
  const place = aroundReading(rounds, orderMs(reading), { set, longestH });
  const { before, after, era } = place;
  const span = SPANNED.includes(reading.parameter) ? spanOf(era) : null;
  const value = valueSays(againstValue(reading, span), place, set);
  const inTime = [againstBefore(place), againstAfter(place), otherUnit(reading, place)];
  const against = [...inTime.filter((reason) => reason !== undefined), ...value.against];
  return {
    reading: reading.id,
    standing: standingOf(against, after),
    reasons: [...against, ...(after === undefined ? [PENDING] : []), ...value.remarks],
    before: before?.at ?? null,
    after: after?.at ?? null,
    span,
  };
}

/**
 * Whether checks vouch for each reading: in time, by a pass before and after it with no calibration in between, and in
 * value, by standards on both sides of it. A failed check puts every reading back to the last pass in question; nothing is
 * taken back, and a person reviews.
 *
 * Source: Florida DEP, training of September 2018, section 3 (read); each set names its own.
 */
export function bracketReadings(
  set: CheckLimitSet,
  checks: readonly CalibrationCheck[],
  readings: readonly MeterReading[],
  options: BracketOptions = {},
): readonly Bracketed[] {
  const bySensor = new Map<string, readonly Round[]>();
  return readings.map((reading) => {
    const key = `${reading.parameter} ${reading.meter}`;
    const rounds = bySensor.get(key) ?? roundsOf(set, checks, reading, options);
    bySensor.set(key, rounds);
    return bracketed(reading, rounds, set, options.longestH);
  });
}
