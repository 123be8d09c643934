import type { Observed } from '../../../protocol/record.ts';
import { instantMs } from '../../../science/instant-ms.ts';

interface ObservedRecord {
  readonly id: string;
  readonly fields: { readonly observed: Pick<Observed, 'at'> };
}

/** When it was observed, as entered, in milliseconds since 1970. */
export function observedMs(record: ObservedRecord): number {
  return instantMs(record.fields.observed.at);
}

interface Timed<Item> {
  readonly record: Item;
  readonly atMs: number;
}

function inOrder<Item extends ObservedRecord>(a: Timed<Item>, b: Timed<Item>): number {
  return a.atMs - b.atMs || (a.record.id < b.record.id ? -1 : 1);
}

/**
 * Earliest first; equal times by id, so that the order of the list does not matter. Each time is read once, and a list
 * that is in order, as most are, is given back as it is.
 */
export function inObservedOrder<Item extends ObservedRecord>(records: readonly Item[]): readonly Item[] {
  if (records.length < 2) return records;
  const timed = records.map((record) => ({ record, atMs: observedMs(record) }));
  if (timed.every((one, at) => at === 0 || inOrder(timed[at - 1] as Timed<Item>, one) < 0)) return records;
  return timed.sort(inOrder).map(({ record }) => record);
}

/** The time of day of an instant as it was entered: "10:05". */
export function timeOfDay(instant: string): string {
  return instant.slice(11, 16);
}
