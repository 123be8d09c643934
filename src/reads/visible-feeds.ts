import { inRead } from '../store/read/transaction.ts';
import { feedsInSight, seesAll } from './feeds-in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

/** The feeds whose records a reader may see; null for all of the firm, which takes no query to know. */
export async function visibleFeeds(ctx: ReadContext, reader: Reader): Promise<readonly string[] | null> {
  if (seesAll(reader)) return null;
  return inRead(ctx.pool, reader.firm, (tx) => feedsInSight(tx, reader));
}
