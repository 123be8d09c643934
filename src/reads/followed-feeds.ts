import { Problem } from '../protocol/problem.ts';
import { allFeeds, type FeedSummary, feedsOfDevice } from '../store/read/followed-feeds.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import type { Reader } from './reader.ts';

/** The feeds that a reader may follow, with their tails. Inside a feed nothing is filtered, so a laboratory follows none. */
export async function followedFeeds(tx: ReadTx, reader: Reader): Promise<FeedSummary[]> {
  if (reader.role === 'laboratory') return [];
  return reader.role === 'crew' ? feedsOfDevice(tx, reader.device) : allFeeds(tx);
}

/** A feed of another firm, or one that the reader does not follow, looks like one that is not there. */
export function notFollowed(feed: string): Problem {
  return new Problem('not_found', `${JSON.stringify(feed.slice(0, 80))} is not among the feeds that you follow`);
}

/** @throws Problem `not_found` for a feed that the reader does not follow */
export async function mustFollow(tx: ReadTx, reader: Reader, feed: string): Promise<void> {
  const followed = await followedFeeds(tx, reader);
  if (!followed.some((one) => one.feed === feed)) throw notFollowed(feed);
}
