import type { Observed, RecordState, StampedClock } from '../../protocol/record.ts';
import { instantMs } from '../../science/instant-ms.ts';

/** A record that says when it was observed. */
export type ObservedRecord = RecordState<{ readonly observed: Observed }>;

/** A record with its place on the time axis that all records of a purge share. Only differences have a meaning. */
export interface Placed<Kind extends ObservedRecord> {
  readonly record: Kind;
  readonly atMs: number;
}

/** A device clock that is further off than this is not believed beside other devices. */
const SKEW_LIMIT_MS = 10 * 60_000;

/** At one and the same moment a level or an interruption comes before the reading, and a call after it. */
const RANKS: Readonly<Record<string, number>> = {
  'water-level': 0,
  'pump-set-up': 0,
  occurrence: 1,
  reading: 2,
  call: 3,
};

interface Captured<Kind extends ObservedRecord> {
  readonly record: Kind;
  readonly clock: StampedClock;
}

/** Lower median: the same whatever the order, and not moved by one time that a person set back. */
function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  return sorted[(sorted.length - 1) >> 1] ?? 0;
}

/**
 * Places what one device captured at the well within one boot: ordered by its sequence, spaced by its monotonic clock,
 * which no wrong or changed wall clock touches. As a whole it is put where its wall clock says, corrected by the
 * difference that the server measured where that is more than ten minutes.
 */
function placeBoot<Kind extends ObservedRecord>(captured: readonly Captured<Kind>[]): Placed<Kind>[] {
  const start = median(captured.map(({ record, clock }) => instantMs(record.fields.observed.at) - clock.monotonicMs));
  const skew = median(captured.map(({ clock }) => clock.differenceMs));
  const origin = Math.abs(skew) > SKEW_LIMIT_MS ? start + skew : start;
  const ordered = captured.toSorted((a, b) => a.clock.sequence - b.clock.sequence || byId(a.record, b.record));
  let latest = Number.NEGATIVE_INFINITY;
  return ordered.map(({ record, clock }) => {
    latest = Math.max(origin + clock.monotonicMs, latest + 1);
    return { record, atMs: latest };
  });
}

function byId(a: ObservedRecord, b: ObservedRecord): number {
  return a.id < b.id ? -1 : 1;
}

function rankOf(record: ObservedRecord): number {
  return RANKS[record.kind] ?? 0;
}

/** In order of time; ties by what the record is and then by its id, so that the order of arrival never matters. */
function inOrder<Kind extends ObservedRecord>(a: Placed<Kind>, b: Placed<Kind>): number {
  return a.atMs - b.atMs || rankOf(a.record) - rankOf(b.record) || byId(a.record, b.record);
}

/** Groups by device and boot what was captured at the well by a device that gave its clock. */
function byBoot<Kind extends ObservedRecord>(records: readonly Kind[], others: Kind[]): Captured<Kind>[][] {
  const boots = new Map<string, Captured<Kind>[]>();
  for (const record of records) {
    const { clock } = record;
    if (clock === null || record.fields.observed.captured !== 'at-the-well') {
      others.push(record);
      continue;
    }
    const key = `${record.client ?? ''}\n${clock.boot}`;
    const group = boots.get(key);
    if (group) group.push({ record, clock });
    else boots.set(key, [{ record, clock }]);
  }
  return [...boots.values()];
}

/**
 * Orders and spaces what was recorded of a purge. What is typed later, or comes without a device clock, stands where
 * its observed time says; times stay as they were entered, this is only how they are compared.
 */
export function placeInTime<Kind extends ObservedRecord>(records: readonly Kind[]): Placed<Kind>[] {
  const others: Kind[] = [];
  const placed = byBoot(records, others).flatMap(placeBoot);
  for (const record of others) placed.push({ record, atMs: instantMs(record.fields.observed.at) });
  return placed.sort(inOrder);
}
