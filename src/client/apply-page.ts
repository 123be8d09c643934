import type { ClientContext } from './context.ts';
import type { Change, Drop, FeedState, Put, StoredRecord } from './store.ts';
import { hashOf, NOTHING, swapped, type Tally } from './tally.ts';
import type { FeedPage, FeedRow } from './transport.ts';

/** The newest row of each record: a page may in principle name one twice. */
function newestRows(rows: readonly FeedRow[]): Map<string, FeedRow> {
  return new Map(rows.map((row) => ['record' in row ? row.record.id : row.gone.id, row]));
}

type RowChange = Extract<Put, { put: 'record' }> | Extract<Drop, { drop: 'record' }>;

function changeOf(feed: string, id: string, row: FeedRow): RowChange {
  if ('gone' in row) return { drop: 'record', feed, id };
  return { put: 'record', stored: { feed, seq: row.seq, hash: hashOf(row.record), record: row.record } };
}

function stateAfter(page: FeedPage, old: FeedState | null, tally: Tally): FeedState {
  const lastSeq = page.rows.at(-1)?.seq ?? old?.seq ?? 0;
  const seq = page.more ? lastSeq : Math.max(page.tail, lastSeq);
  const tail = page.more ? (old?.tail ?? -1) : seq;
  return {
    feed: page.feed,
    cursor: page.cursor,
    seq,
    complete: !page.more || (old?.complete ?? false),
    ...(tail < 0 ? {} : { tail }),
    ...tally,
  };
}

/** The rows of a page and the cursor after them in one commit: a crash leaves both or neither. */
export function applyPage(context: ClientContext, page: FeedPage, old: FeedState | null): Promise<FeedState> {
  return context.exclusive(async () => {
    const { store } = context;
    const rows = newestRows(page.rows);
    const held = await store.held(page.feed, [...rows.keys()]);
    const before = new Map(held.map((stored): [string, StoredRecord] => [stored.record.id, stored]));
    const changes: Change[] = [];
    let tally: Tally = old ?? NOTHING;
    for (const [id, row] of rows) {
      const change = changeOf(page.feed, id, row);
      tally = swapped(tally, before.get(id)?.hash ?? null, 'put' in change ? change.stored.hash : null);
      changes.push(change);
    }
    const { count, contentHash } = tally;
    const state = stateAfter(page, old, { count, contentHash });
    await store.commit([...changes, { put: 'feed', state }]);
    return state;
  });
}
