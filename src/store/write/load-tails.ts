import type { WriteTx } from './transaction.ts';

/** What the newest row of a feed carries. */
export interface Tail {
  readonly seq: number;
  readonly liveCount: number;
  readonly contentHash: Buffer;
  readonly historyHash: Buffer;
}

export const EMPTY_TAIL: Tail = {
  seq: 0,
  liveCount: 0,
  contentHash: Buffer.alloc(8),
  historyHash: Buffer.alloc(32),
};

interface Row extends Tail {
  readonly feed: string;
}

export async function loadTails(tx: WriteTx, feeds: readonly string[]): Promise<Map<string, Tail>> {
  const { rows } = await tx.client.query<Row>({
    name: 'tails',
    text: `select wanted.feed, t.* from unnest($2::text[]) as wanted(feed)
cross join lateral (
  select seq, live_count as "liveCount", content_hash as "contentHash", history_hash as "historyHash"
  from ledger where firm = $1 and feed = wanted.feed order by seq desc limit 1
) t`,
    values: [tx.firm, feeds],
  });
  return new Map(rows.map((row) => [row.feed, row]));
}
