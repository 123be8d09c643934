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
  /** Rows that say that a record is gone may be missing up to here; 0 where none was dropped. */
  readonly floor: number;
}

export async function feedTail(tx: ReadTx, feed: string, at: number): Promise<FeedTail> {
  const { rows } = await tx.client.query<FeedTail>({
    name: 'feed-tail',
    text: `select i.epoch, i.cursor_key as "cursorKey", coalesce(t.seq, 0) as tail, coalesce(t.live_count, 0) as count,
  coalesce(t.content_hash, decode('0000000000000000', 'hex')) as "contentHash",
  coalesce(t.history_hash, decode(repeat('00', 32), 'hex')) as "historyHash",
  (select history_hash from ledger where firm = $1 and feed = $2 and seq = $3) as "historyAt",
  coalesce((select floor from feed_floor where firm = $1 and feed = $2), 0) as floor
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

/** Rows of a feed as one text, each row as a page carries it, with commas between them. */
export interface FeedRows {
  readonly count: number;
  /** Place of the last row; null where there is none. */
  readonly last: number | null;
  /** History hash at the last row. */
  readonly history: Buffer | null;
  readonly text: string | null;
}

/**
 * One row of the ledger is looked up for each head, and their texts are put together in the order of the inner query (an
 * order of the aggregate's own would sort the texts once more). The fence (`offset 0`) keeps the planner from a merge with the
 * ledger, which reads it from its beginning on every page, and from a range of it where the tables were never analysed.
 */
function pageOf(heads: string): string {
  return `select p.count, p.last, p.text, l.history_hash as history from (
  select count(*) as count, max(seq) as last, string_agg(text, ',') as text from (
    select h.seq, case when l.state is null
      then '{"seq":' || h.seq || ',"gone":{"kind":' || to_json(h.kind)::text || ',"id":"' || h.id || '"}}'
      else '{"seq":' || h.seq || ',"record":' || l.state || '}' end as text
    from (select seq, kind, id from head where ${heads} order by seq limit $4) h
    cross join lateral (
      select state::text as state from ledger where firm = $1 and feed = $2 and seq = h.seq offset 0
    ) l order by h.seq
  ) rows
) p left join ledger l on l.firm = $1 and l.feed = $2 and l.seq = p.last`;
}

const AFTER = 'firm = $1 and feed = $2 and seq > $3';
const ALL = pageOf(AFTER);
const LIVE = pageOf(`${AFTER} and (not gone or seq > $5)`);

async function page(tx: ReadTx, query: { name: string; text: string; values: unknown[] }): Promise<FeedRows> {
  const { rows } = await tx.client.query<FeedRows>(query);
  return rows[0] ?? { count: 0, last: null, history: null, text: null };
}

/** The newest state of each record of a feed, in the order in which those states came, from after a place on. */
export function feedRows(tx: ReadTx, feed: string, after: number, limit: number): Promise<FeedRows> {
  return page(tx, { name: 'feed-rows', text: ALL, values: [tx.firm, feed, after, limit] });
}

/**
 * As feedRows, but of what is gone only what went after a place: who began from nothing has nothing else to drop.
 *
 * @param begun where the feed ended when the reader began; it begins now where that is left out
 */
export function liveRows(
  tx: ReadTx,
  feed: string,
  after: number,
  limit: number,
  begun = Number.MAX_SAFE_INTEGER,
): Promise<FeedRows> {
  return page(tx, { name: 'feed-live-rows', text: LIVE, values: [tx.firm, feed, after, limit, begun] });
}
