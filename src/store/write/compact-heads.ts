import { uuidArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

interface GoneRow {
  readonly id: string;
  readonly seq: number;
}

/** The oldest rows of a feed that say that a record is gone and came before an instant. */
async function goneBefore(tx: WriteTx, feed: string, before: string, limit: number): Promise<GoneRow[]> {
  const { rows } = await tx.client.query<GoneRow>({
    name: 'gone-before',
    text: `select h.id, h.seq from (select id, seq from head where firm = $1 and feed = $2 and gone) h
cross join lateral (select received_at from ledger where firm = $1 and feed = $2 and seq = h.seq offset 0) l
where l.received_at < $3 order by h.seq limit $4`,
    values: [tx.firm, feed, before, limit],
  });
  return rows;
}

/** Whoever has read the feed less far than to this place begins it anew from now on. A floor never sinks. */
async function raiseFloor(tx: WriteTx, feed: string, floor: number, now: string): Promise<void> {
  await tx.client.query({
    name: 'raise-floor',
    text: `insert into feed_floor as known (firm, feed, floor, raised_at) values ($1, $2, $3, $4)
on conflict (firm, feed) do update set floor = excluded.floor, raised_at = excluded.raised_at
where known.floor < excluded.floor`,
    values: [tx.firm, feed, floor, now],
  });
}

async function dropGone(tx: WriteTx, feed: string, ids: readonly string[]): Promise<void> {
  await tx.client.query({
    name: 'drop-gone',
    text: 'delete from head where firm = $1 and feed = $2 and id = any($3::uuid[]) and gone',
    values: [tx.firm, feed, uuidArray(ids)],
  });
}

export interface CompactStep {
  readonly feed: string;
  readonly before: string;
  readonly limit: number;
  readonly now: string;
}

/**
 * Drops the oldest rows of a feed that say that a record is gone, and raises the floor of the feed to the newest of
 * them. What happened stays in the ledger.
 *
 * @returns how many there were
 */
export async function compactHeads(tx: WriteTx, { feed, before, limit, now }: CompactStep): Promise<number> {
  const rows = await goneBefore(tx, feed, before, limit);
  const newest = rows.at(-1);
  if (!newest) return 0;
  await raiseFloor(tx, feed, newest.seq, now);
  await dropGone(
    tx,
    feed,
    rows.map(({ id }) => id),
  );
  return rows.length;
}
