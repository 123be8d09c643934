import { bigintArray } from './array-parameter.ts';
import type { WriteTx } from './transaction.ts';

/**
 * Of the first rows of a feed that say that a record is gone, those that came before an instant. Only the first are looked
 * at: they came first, and where clocks say otherwise, a row is dropped on a later day.
 */
async function goneBefore(tx: WriteTx, feed: string, before: string, limit: number): Promise<number[]> {
  const { rows } = await tx.client.query<{ seq: number }>({
    name: 'gone-before',
    text: `select h.seq from (
  select seq from head where firm = $1 and feed = $2 and gone order by seq limit $4
) h cross join lateral (select received_at from ledger where firm = $1 and feed = $2 and seq = h.seq offset 0) l
where l.received_at < $3 order by h.seq`,
    values: [tx.firm, feed, before, limit],
  });
  return rows.map(({ seq }) => seq);
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

/** Each is looked up by its place: a plan for a table that was never analysed looks at every row of the feed instead. */
async function dropGone(tx: WriteTx, feed: string, seqs: readonly number[]): Promise<void> {
  await tx.client.query({
    name: 'drop-gone',
    text: `delete from head where firm = $1 and gone and ctid = any(array(
  select h.ctid from unnest($3::bigint[]) as dropped(seq) cross join lateral (
    select ctid from head where firm = $1 and feed = $2 and seq = dropped.seq and gone offset 0
  ) h
))`,
    values: [tx.firm, feed, bigintArray(seqs)],
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
  const seqs = await goneBefore(tx, feed, before, limit);
  const newest = seqs.at(-1);
  if (newest === undefined) return 0;
  await raiseFloor(tx, feed, newest, now);
  await dropGone(tx, feed, seqs);
  return seqs.length;
}
