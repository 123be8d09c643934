import type { ReadTx } from '../store/read/transaction.ts';
import { followedFeeds } from './followed-feeds.ts';
import type { Reader } from './reader.ts';

/** The feeds whose records a reader may see; null for all of the firm, whose rows alone the database shows. */
export async function feedsInSight(tx: ReadTx, reader: Reader): Promise<readonly string[] | null> {
  if (reader.role !== 'crew') return null;
  return (await followedFeeds(tx, reader)).map(({ feed }) => feed);
}
