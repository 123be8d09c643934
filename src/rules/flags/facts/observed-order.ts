import type { Observed } from '../../../protocol/record.ts';

interface ObservedRecord {
  readonly id: string;
  readonly fields: { readonly observed: Pick<Observed, 'at'> };
}

/** When it was observed, as entered, in milliseconds since 1970. */
export function observedMs(record: ObservedRecord): number {
  return Date.parse(record.fields.observed.at);
}

/** Earliest first; equal times by id, so that the order of the list does not matter. Each time is read once. */
export function inObservedOrder<Item extends ObservedRecord>(records: readonly Item[]): readonly Item[] {
  if (records.length < 2) return records;
  const timed = records.map((record) => ({ record, atMs: observedMs(record) }));
  timed.sort((a, b) => a.atMs - b.atMs || (a.record.id < b.record.id ? -1 : 1));
  return timed.map(({ record }) => record);
}

/** The time of day of an instant as it was entered: "10:05". */
export function timeOfDay(instant: string): string {
  return instant.slice(11, 16);
}
