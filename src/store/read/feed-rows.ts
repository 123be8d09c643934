import type { ReadTx } from './transaction.ts';

/** The tail of a feed, and what its history was at a place in it. */
export interface FeedTail {
  readonly epoch: string;
  readonly cursorKey: Buffer;
  readonly tail: number;
  readonly count: number;
  readonly contentHash: Buffer;
  readonly historyHash: Buffer;
  /** History hash at the place asked for; null where the feed has no such row. */
  readonly historyAt: Buffer | null;
}

export async function feedTail(tx: ReadTx, feed: string, at: number): Promise<FeedTail> {
  const { rows } = await tx.client.query<FeedTail>({
    name: 'feed-tail',
    text: `select i.epoch, i.cursor_key as "cursorKey", coalesce(t.seq, 0) as tail, coalesce(t.live_count, 0) as count,
  coalesce(t.content_hash, decode('0000000000000000', 'hex')) as "contentHash",
  coalesce(t.history_hash, decode(repeat('00', 32), 'hex')) as "historyHash",
  (select history_hash from ledger where firm = $1 and feed = $2 and seq = $3) as "historyAt"
from installation i
left join lateral (
  select seq, live_count, content_hash, history_hash from ledger where firm = $1 and feed = $2 order by seq desc limit 1
) t on true`,
    values: [tx.firm, feed, at],
  });
  const [row] = rows;
  if (!row) throw new Error('the database has no installation row: it was not set up by the migrations');
  return row;
}

/** A row of a feed as it is stored; `state` is the text of the record, null where it is gone. */
export interface FeedRow {
  readonly seq: number;
  readonly kind: string;
  readonly id: string;
  readonly state: string | null;
}

/** The newest state of each record of a feed, in the order in which those states came, from after a place on. */
export async function feedRows(tx: ReadTx, feed: string, after: number, limit: number): Promise<FeedRow[]> {
  const { rows } = await tx.client.query<FeedRow>({
    name: 'feed-rows',
    text: `select h.seq, h.kind, h.id, l.state::text as state
from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.feed = $2 and h.seq > $3 order by h.seq limit $4`,
    values: [tx.firm, feed, after, limit],
  });
  return rows;
}

/** As feedRows, but without what is gone: who begins from nothing has nothing to drop. */
export async function liveRows(tx: ReadTx, feed: string, after: number, limit: number): Promise<FeedRow[]> {
  const { rows } = await tx.client.query<FeedRow>({
    name: 'feed-live-rows',
    text: `select h.seq, h.kind, h.id, l.state::text as state
from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.feed = $2 and h.seq > $3 and not h.gone order by h.seq limit $4`,
    values: [tx.firm, feed, after, limit],
  });
  return rows;
}
