import type pg from 'pg';
import { SCHEMA_VERSION } from '../protocol/version.ts';
import { clientStanding } from '../store/read/client-standing.ts';
import { inRead } from '../store/read/transaction.ts';
import { followedFeeds } from './followed-feeds.ts';
import type { Reader } from './reader.ts';

/** What a phone asks first: which feeds it follows and how far they have come, and how far its own mutations have. */
export function feedList(pool: pg.Pool, reader: Reader, client: string | null, now: string) {
  return inRead(pool, reader.firm, async (tx) => {
    const standing = await clientStanding(tx, client);
    const feeds = await followedFeeds(tx, reader);
    return {
      ...standing,
      serverTime: now,
      schemaVersion: SCHEMA_VERSION,
      feeds: feeds.map(({ feed, tail, count, contentHash }) => {
        return { feed, tail, count, contentHash: contentHash.toString('hex') };
      }),
    };
  });
}
