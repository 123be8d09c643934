import type { RecordState } from '../../protocol/record.ts';
import type { FormerValue } from '../../rules/custody/former-values.ts';
import type { Writers } from '../../rules/custody/signatures.ts';
import { type HistoryEntry, HistoryTelling } from '../../rules/record-history/history-entry.ts';
import { historyKeys } from '../../store/read/history-rows.ts';
import type { ReadTx } from '../../store/read/transaction.ts';
import { toldAt } from '../told-history.ts';
import { changedAt } from './contents.ts';

/** More rows than this about the records of one cooler were never seen; what is beyond is not looked at. */
const MOST_ROWS = 10_000;

const CORRECTING: readonly HistoryEntry['act'][] = ['changed', 'corrected', 'decided'];

/** A value as it is written on paper. */
function textOf(value: unknown): string {
  if (value === undefined || value === null) return '';
  if (Array.isArray(value)) return value.length === 0 ? 'none' : value.map(textOf).join(', ').replaceAll('-', ' ');
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return typeof value === 'object' ? JSON.stringify(value) : String(value);
}

function formerOf(entry: HistoryEntry, initials: ReadonlyMap<string, string>): readonly FormerValue[] {
  const { id, kind, act, state, changes, names, receivedAt, client, mutation, device } = entry;
  if (!CORRECTING.includes(act)) return [];
  const by = state?.by ?? null;
  const written = { ...changedAt(entry, device !== null), client, mutation };
  return changes
    .filter(({ was }) => was !== undefined && was !== null)
    .map(({ field, was, is }) => ({
      record: id,
      kind,
      field,
      was: textOf(was),
      is: textOf(is),
      at: receivedAt,
      written,
      by: (by && names.get(by)) ?? null,
      initials: (by && initials.get(by)) ?? null,
      reason: state?.reason ?? null,
    }));
}

/** What the histories of records tell. */
export interface Former {
  readonly former: readonly FormerValue[];
  readonly writers: Writers;
}

/**
 * What these records said before they were corrected and who wrote them down first, the oldest first. Most were never changed, and of those no history is
 * read.
 *
 * @param initials of members, by their ids
 */
export async function formerValues(
  tx: ReadTx,
  feed: string,
  records: readonly Pick<RecordState, 'id' | 'rev'>[],
  initials: ReadonlyMap<string, string>,
): Promise<Former> {
  const changed = [...new Set(records.filter(({ rev }) => rev > 1).map(({ id }) => id))];
  if (changed.length === 0) return { former: [], writers: new Map() };
  const keys = await historyKeys(tx, changed, feed, 0, MOST_ROWS);
  const entries = await toldAt(tx, keys, new HistoryTelling());
  const firsts = entries.filter(({ rev }) => rev === 1);
  return {
    former: entries.flatMap((entry) => formerOf(entry, initials)),
    writers: new Map(firsts.map(({ id, client, mutation }) => [id, { client, mutation }])),
  };
}
