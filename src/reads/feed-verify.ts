import type pg from 'pg';
import { feedBuckets, rowsWithin } from '../store/read/feed-buckets.ts';
import { feedTail } from '../store/read/feed-rows.ts';
import { inRead } from '../store/read/transaction.ts';
import { mustFollow } from './followed-feeds.ts';
import type { Reader } from './reader.ts';

/** Few enough records to send them instead of splitting further. */
const ROWS_AT_ONCE = 64;

/** Count and hash of the records of a feed by the digits of their ids, so that a difference is found by bisecting. */
export function feedVerify(pool: pg.Pool, reader: Reader, feed: string, prefix: string) {
  return inRead(pool, reader.firm, async (tx) => {
    await mustFollow(tx, reader, feed);
    const { tail } = await feedTail(tx, feed, 0);
    const buckets = await feedBuckets(tx, feed, prefix);
    const count = buckets.reduce((sum, bucket) => sum + bucket.count, 0);
    if (count > ROWS_AT_ONCE) return { feed, prefix, tail, buckets };
    const rows = await rowsWithin(tx, feed, prefix);
    const records = rows.map((row) => ({ seq: row.seq, record: JSON.parse(row.state ?? 'null') as object }));
    return { feed, prefix, tail, buckets, rows: records };
  });
}
