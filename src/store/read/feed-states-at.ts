import type { RecordState } from '../../protocol/record.ts';
import type { ReadTx } from './transaction.ts';

/** The records of these kinds as they stood in a feed at a place of its history, in the order of their ids. */
export async function feedStatesAt(
  tx: ReadTx,
  feed: string,
  seq: number,
  kinds: readonly string[],
): Promise<RecordState[]> {
  const { rows } = await tx.client.query<{ state: RecordState }>({
    name: 'feed-states-at',
    text: `select state from (
  select distinct on (record) record, state from ledger
  where firm = $1 and feed = $2 and seq <= $3 and kind = any($4) order by record, seq desc
) l where state is not null order by record`,
    values: [tx.firm, feed, seq, kinds],
  });
  return rows.map(({ state }) => state);
}

/** Where a feed ends, and what its history was there and at a place asked for; null where it has no such row. */
export interface PlaceInFeed {
  readonly feed: string;
  readonly tail: number;
  readonly historyHash: Buffer;
  readonly historyAt: Buffer | null;
}

export interface Places {
  readonly epoch: string;
  readonly key: Buffer;
  readonly feeds: ReadonlyMap<string, PlaceInFeed>;
}

/** Places in several feeds, from one snapshot, with the key of the installation from which secrets of firms are made. */
export async function placesIn(tx: ReadTx, asked: ReadonlyMap<string, number>): Promise<Places> {
  const { rows } = await tx.client.query<PlaceInFeed & { readonly epoch: string; readonly key: Buffer }>({
    name: 'places-in-feeds',
    text: `select i.epoch, i.cursor_key as key, f.feed, coalesce(t.seq, 0) as tail,
  coalesce(t.history_hash, decode(repeat('00', 32), 'hex')) as "historyHash",
  (select history_hash from ledger where firm = $1 and feed = f.feed and seq = f.at) as "historyAt"
from installation i cross join unnest($2::text[], $3::bigint[]) as f(feed, at)
left join lateral (
  select seq, history_hash from ledger where firm = $1 and feed = f.feed order by seq desc limit 1
) t on true`,
    values: [tx.firm, [...asked.keys()], [...asked.values()]],
  });
  const [first] = rows;
  if (!first) throw new Error('the database has no installation row: it was not set up by the migrations');
  return { epoch: first.epoch, key: first.key, feeds: new Map(rows.map((row) => [row.feed, row])) };
}
