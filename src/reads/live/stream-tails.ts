import type pg from 'pg';
import { inRead } from '../../store/read/transaction.ts';
import { followedFeeds, notFollowed } from '../followed-feeds.ts';
import type { Reader } from '../reader.ts';
import type { FeedTails } from './look.ts';

/**
 * Where the feeds end that a stream begins with: those named, or all that its reader follows.
 *
 * @throws Problem `not_found` for a feed named that is not followed
 */
export function streamTails(pool: pg.Pool, reader: Reader, named: ReadonlySet<string> | null): Promise<FeedTails> {
  return inRead(pool, reader.firm, async (tx) => {
    const tails = new Map((await followedFeeds(tx, reader)).map(({ feed, tail }) => [feed, tail]));
    if (named === null) return tails;
    return new Map(
      [...named].map((feed) => {
        const tail = tails.get(feed);
        if (tail === undefined) throw notFollowed(feed);
        return [feed, tail];
      }),
    );
  });
}
