import { canonicalText, NO_ROWS, rowHash, xorHash } from '../protocol/content-hash.ts';
import type { StoredRecord } from './store.ts';

/** How many records, and the XOR of their row hashes. */
export interface Tally {
  readonly count: number;
  readonly contentHash: string;
}

export const NOTHING: Tally = { count: 0, contentHash: NO_ROWS };

export function hashOf(record: unknown): string {
  return rowHash(canonicalText(record));
}

export function sameTally(a: Tally, b: Tally): boolean {
  return a.count === b.count && a.contentHash === b.contentHash;
}

/** Counted from what is really stored, not from what was noted when it was written. */
export function recount(records: readonly StoredRecord[]): Tally {
  const contentHash = records.reduce((hash, { record }) => xorHash(hash, hashOf(record)), NO_ROWS);
  return { count: records.length, contentHash };
}

/** The tally after one row hash was taken out (null: there was none) and another put in (null: it is gone). */
export function swapped(tally: Tally, out: string | null, into: string | null): Tally {
  const without = out === null ? tally.contentHash : xorHash(tally.contentHash, out);
  const contentHash = into === null ? without : xorHash(without, into);
  return { count: tally.count + (into === null ? 0 : 1) - (out === null ? 0 : 1), contentHash };
}
