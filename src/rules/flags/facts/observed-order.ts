import type { Observed } from '../../../protocol/record.ts';

interface ObservedRecord {
  readonly id: string;
  readonly fields: { readonly observed: Pick<Observed, 'at'> };
}

/** When it was observed, as entered, in milliseconds since 1970. */
export function observedMs(record: ObservedRecord): number {
  return Date.parse(record.fields.observed.at);
}

/** Earliest first; equal times by id, so that the order of the list does not matter. */
export function inObservedOrder<Item extends ObservedRecord>(records: readonly Item[]): readonly Item[] {
  return records.toSorted((a, b) => observedMs(a) - observedMs(b) || (a.id < b.id ? -1 : 1));
}

/** The time of day of an instant as it was entered: "10:05". */
export function timeOfDay(instant: string): string {
  return instant.slice(11, 16);
}
