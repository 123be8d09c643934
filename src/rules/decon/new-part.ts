import type { ChangedPart } from '../../catalog/decon/decon-protocol.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { DeconRecord, PartChangeRecord, SoftPart } from './decon-record.ts';
import type { RecordedStep } from './recorded-step.ts';

export interface PartsGiven {
  readonly decon: DeconRecord;
  readonly parts: readonly SoftPart[];
  readonly changes: readonly PartChangeRecord[];
  /** When the unit went into its next well: until then the new part may be put in. */
  readonly nextUse: string | undefined;
  readonly lotsRequired: readonly string[];
}

/** A part that went into the unit for this cleaning. */
export interface PartPutIn {
  readonly id: string;
  /** Undefined where it is named and not among the parts. */
  readonly part: SoftPart | undefined;
  readonly atMs: number;
  readonly well: string | null;
}

const OUT: readonly PartChangeRecord['action'][] = ['removed', 'discarded'];

function windowEnd({ nextUse, decon }: PartsGiven): number {
  const until = nextUse ?? decon.ended;
  return until ? instantMs(until) : Number.POSITIVE_INFINITY;
}

function byChanges(type: ChangedPart, given: PartsGiven): PartPutIn[] {
  const [fromMs, untilMs] = [instantMs(given.decon.began), windowEnd(given)];
  return given.changes.flatMap(({ unit, action, part: id, observed, well }) => {
    const part = given.parts.find((one) => one.id === id);
    const atMs = instantMs(observed.at);
    const counts = unit === given.decon.unit && action === 'installed' && atMs >= fromMs && atMs <= untilMs;
    return counts && part?.type === type ? [{ id, part, atMs, well: well ?? null }] : [];
  });
}

function bySteps({ done }: RecordedStep, { parts }: PartsGiven): PartPutIn[] {
  return done.flatMap(({ part: id, observed }) =>
    id ? [{ id, part: parts.find((one) => one.id === id), atMs: instantMs(observed.at), well: null }] : [],
  );
}

function isOutAgain({ id, atMs }: PartPutIn, given: PartsGiven): boolean {
  return given.changes.some(({ part, action, observed }) => {
    const outMs = instantMs(observed.at);
    return part === id && OUT.includes(action) && outMs > atMs && outMs <= windowEnd(given);
  });
}

function byTimeAndWell(a: PartPutIn, b: PartPutIn): number {
  return a.atMs - b.atMs || ((a.well ?? '') < (b.well ?? '') ? -1 : 1);
}

/** The parts of this type that are in the unit after the cleaning, each once, in the order of their ids. */
export function partsPutIn(recorded: RecordedStep, type: ChangedPart, given: PartsGiven): readonly PartPutIn[] {
  const all = [...bySteps(recorded, given), ...byChanges(type, given)];
  const ids = [...new Set(all.map(({ id }) => id))].toSorted();
  const latest = ids.flatMap((id) => {
    const its = all.filter((one) => one.id === id).toSorted(byTimeAndWell);
    const last = its.at(-1);
    const well = its.findLast((one) => one.well !== null)?.well ?? null;
    return last ? [{ ...last, well }] : [];
  });
  return latest.filter((one) => !isOutAgain(one, given));
}

/**
 * A part that was in a unit before this cleaning, or came out of one during it, is not new. Tubing that is kept for its
 * well and goes back into that well counts as new there: it meets no other water.
 */
export function wasInUse({ id, atMs, well }: PartPutIn, { decon, changes }: PartsGiven): boolean {
  const before = changes
    .filter(({ part, action, observed }) => {
      const thenMs = instantMs(observed.at);
      return part === id && (thenMs < instantMs(decon.began) || (OUT.includes(action) && thenMs < atMs));
    })
    .toSorted((a, b) => instantMs(a.observed.at) - instantMs(b.observed.at) || (a.id < b.id ? -1 : 1));
  const last = before.at(-1);
  if (last?.action !== 'kept-for-well') return last !== undefined;
  return Boolean(well && last.well && well !== last.well);
}
