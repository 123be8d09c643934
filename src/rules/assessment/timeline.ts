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

/** What one device captured at the well within one boot. */
interface Boot<Kind extends ObservedRecord> {
  readonly client: string | null;
  readonly boot: string;
  readonly captured: Clocked<Kind>[];
}

type Clocked<Kind extends ObservedRecord> = Kind & { readonly clock: StampedClock };

function isClocked<Kind extends ObservedRecord>(record: Kind): record is Clocked<Kind> {
  return record.clock !== null && record.fields.observed.captured === 'at-the-well';
}

/** Lower median: the same whatever the order, and not moved by one time that a person set back. */
function median(values: Float64Array): number {
  if (values[0] === values[values.length - 1] && values.every((value) => value === values[0]))
    return values[0] as number;
  return values.sort()[(values.length - 1) >> 1] as number;
}

/** Where the axis of a boot begins: by its wall clock, corrected where the server found it more than ten minutes off. */
function originOf<Kind extends ObservedRecord>({ captured }: Boot<Kind>): number {
  const starts = new Float64Array(captured.length);
  const skews = new Float64Array(captured.length);
  for (let index = 0; index < captured.length; index += 1) {
    const { fields, clock } = captured[index] as Clocked<Kind>;
    starts[index] = instantMs(fields.observed.at) - clock.monotonicMs;
    skews[index] = clock.differenceMs;
  }
  const skew = median(skews);
  return median(starts) + (Math.abs(skew) > SKEW_LIMIT_MS ? skew : 0);
}

/**
 * Places a boot: ordered by the sequence of the device and spaced by its monotonic clock, which no wrong or changed
 * wall clock touches.
 */
function placeBoot<Kind extends ObservedRecord>(boot: Boot<Kind>, placed: Placed<Kind>[]): void {
  const origin = originOf(boot);
  sortIfNeeded(boot.captured, bySequence);
  let latest = Number.NEGATIVE_INFINITY;
  let previous = '';
  for (const record of boot.captured) {
    if (record.id === previous) continue;
    previous = record.id;
    latest = Math.max(origin + record.clock.monotonicMs, latest + 1);
    placed.push({ record, atMs: latest });
  }
}

function byId(a: ObservedRecord, b: ObservedRecord): number {
  if (a.id === b.id) return 0;
  return a.id < b.id ? -1 : 1;
}

function rankOf(record: ObservedRecord): number {
  return RANKS[record.kind] as number;
}

/** In order of time; ties by what the record is and then by its id, so that the order of arrival never matters. */
function inOrder<Kind extends ObservedRecord>(a: Placed<Kind>, b: Placed<Kind>): number {
  return a.atMs - b.atMs || rankOf(a.record) - rankOf(b.record) || byId(a.record, b.record);
}

/** Records mostly come in order, and looking is cheaper than sorting. */
function sortIfNeeded<Item>(items: Item[], compare: (a: Item, b: Item) => number): void {
  for (let index = 1; index < items.length; index += 1) {
    if (compare(items[index - 1] as Item, items[index] as Item) <= 0) continue;
    items.sort(compare);
    return;
  }
}

function bySequence<Kind extends ObservedRecord>(a: Clocked<Kind>, b: Clocked<Kind>): number {
  return a.clock.sequence - b.clock.sequence || byId(a, b);
}

function bootOf<Kind extends ObservedRecord>(
  boots: Boot<Kind>[],
  { client, clock: { boot } }: Clocked<Kind>,
): Boot<Kind> {
  for (const known of boots) if (known.boot === boot && known.client === client) return known;
  const added: Boot<Kind> = { client, boot, captured: [] };
  boots.push(added);
  return added;
}

/**
 * Orders and spaces what was recorded of a purge. What one device captured at the well within one boot is placed by the
 * clocks of that device; what was typed later, or comes without a device clock, stands where its observed time says.
 * Times stay as they were entered, this is only how they are compared. A record that is given twice is placed once.
 */
export function placeInTime<Kind extends ObservedRecord>(records: readonly Kind[]): Placed<Kind>[] {
  const placed: Placed<Kind>[] = [];
  const boots: Boot<Kind>[] = [];
  for (const record of records) {
    if (isClocked(record)) bootOf(boots, record).captured.push(record);
    else placed.push({ record, atMs: instantMs(record.fields.observed.at) });
  }
  for (const boot of boots) placeBoot(boot, placed);
  sortIfNeeded(placed, inOrder);
  return placed.filter(({ record }, index) => record.id !== placed[index - 1]?.record.id);
}
