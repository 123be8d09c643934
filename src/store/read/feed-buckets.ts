import type { FeedRow } from './feed-rows.ts';
import type { ReadTx } from './transaction.ts';

export interface Bucket {
  readonly prefix: string;
  readonly count: number;
  readonly hash: string;
}

const HEX_ID = `replace(h.id::text, '-', '')`;
const WITHIN = `h.firm = $1 and h.feed = $2 and not h.gone and starts_with(${HEX_ID}, $3)`;

/**
 * Count and hash of the live records whose ids begin with a prefix, split at the first digit in which they differ.
 * Ids made one after the other begin alike, so the digits that all share are skipped.
 */
export async function feedBuckets(tx: ReadTx, feed: string, prefix: string): Promise<Bucket[]> {
  const { rows } = await tx.client.query<Bucket>({
    name: 'feed-buckets',
    text: `with ids as (select ${HEX_ID} as hex, h.row_hash from head h where ${WITHIN}),
ends as (select min(hex) as low, max(hex) as high from ids),
depth as (
  select coalesce(min(n), 32) as n from ends, generate_series(1, 32) as n where substr(low, n, 1) <> substr(high, n, 1)
)
select substr(hex, 1, depth.n) as prefix, count(*) as count,
  lpad(to_hex(bit_xor(('x' || encode(row_hash, 'hex'))::bit(64)::bigint)), 16, '0') as hash
from ids, depth group by 1 order by 1`,
    values: [tx.firm, feed, prefix],
  });
  return rows;
}

export async function rowsWithin(tx: ReadTx, feed: string, prefix: string): Promise<FeedRow[]> {
  const { rows } = await tx.client.query<FeedRow>({
    name: 'feed-rows-within',
    text: `select h.seq, h.kind, h.id, l.state::text as state
from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where ${WITHIN} order by h.seq`,
    values: [tx.firm, feed, prefix],
  });
  return rows;
}
