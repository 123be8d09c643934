import type { KindDefinition } from '../protocol/kind.ts';
import type { RecordState, StampedClock } from '../protocol/record.ts';
import { type FieldChange, fieldChanges } from '../rules/record-history/field-changes.ts';
import { type HistoryRow, recordHistory } from '../store/read/record-history.ts';
import { readListCursor, writeListCursor } from './list-cursor.ts';
import { visibleRecord } from './one-record.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { visibleFeeds } from './visible-feeds.ts';

export interface HistoryEntry {
  readonly feed: string;
  readonly seq: number;
  readonly rev: number;
  /** When the server took it. */
  readonly receivedAt: string;
  readonly client: string | null;
  readonly mutation: number | null;
  /** Of the device, when it captured this change: a time that nobody but the device vouches for. */
  readonly clock: StampedClock | null;
  readonly changes: readonly FieldChange[];
  /** The state as it was; null where the record left this feed, because it moved or nothing gave rise to it. */
  readonly record: RecordState | null;
}

export interface HistoryPage {
  readonly entries: readonly HistoryEntry[];
  readonly next: string | null;
}

function entriesOf(rows: readonly HistoryRow[]): HistoryEntry[] {
  let before: RecordState | null = null;
  return rows.map(({ state: record, ...row }) => {
    const changes = before && record ? fieldChanges(before, record) : [];
    before = record ?? before;
    return { ...row, changes, record };
  });
}

/** The rows before a page that its first change is told against: a move leaves a row without a state. */
const CONTEXT_ROWS = 2;

/** Everything that a record ever said, oldest first, with what each change replaced. */
export async function recordHistoryPage(
  ctx: ReadContext,
  reader: Reader,
  kind: KindDefinition,
  id: string,
  page: { readonly cursor?: string | undefined; readonly limit: number },
): Promise<HistoryPage> {
  const list = `${kind.plural}/${id}/history`;
  const begin = Number(readListCursor(list, page.cursor, (place) => /^\d{1,9}$/.test(place)) ?? 0);
  const visible = await visibleFeeds(ctx, reader);
  return ctx.records.read(reader.firm, async (tx) => {
    await visibleRecord(tx, visible, kind, id);
    const skip = Math.max(0, begin - CONTEXT_ROWS);
    const order = kind.family === 'derived' ? 'derived' : 'written';
    const rows = await recordHistory(tx, id, order, { skip, take: begin - skip + page.limit + 1 });
    const entries = entriesOf(rows).slice(begin - skip, begin - skip + page.limit);
    const more = rows.length > begin - skip + page.limit;
    return { entries, next: more ? writeListCursor(list, String(begin + page.limit)) : null };
  });
}
