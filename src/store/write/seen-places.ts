import type { WriteTx } from './transaction.ts';

/** What the history is at a place of a feed. */
export interface PlaceHere {
  readonly feed: string;
  readonly seq: number;
  readonly epoch: string;
  /** Null where the feed does not go so far. */
  readonly historyHash: Buffer | null;
}

export async function placesHere(tx: WriteTx, feeds: readonly string[], seqs: readonly number[]): Promise<PlaceHere[]> {
  const { rows } = await tx.client.query<PlaceHere>({
    name: 'seen-places',
    text: `select w.feed, w.seq, i.epoch, l.history_hash as "historyHash"
from installation i cross join unnest($2::text[], $3::bigint[]) as w(feed, seq)
left join lateral (
  select history_hash from ledger where firm = $1 and feed = w.feed and seq = w.seq offset 0
) l on true`,
    values: [tx.firm, feeds, seqs],
  });
  return rows;
}
