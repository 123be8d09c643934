import type { ClientContext } from './context.ts';
import { type Pages, pullPages, type Reached } from './pull-pages.ts';
import { repair } from './repair.ts';
import type { FeedState } from './store.ts';
import { recount, sameTally } from './tally.ts';

export interface Agreement extends Pages {
  readonly repaired: boolean;
  /** Begun anew because the repair was not enough. */
  readonly reset: boolean;
  /** Still different afterwards: one of the two sides counts wrongly, and somebody must look. */
  readonly differs: boolean;
}

/** Are count and hash the server's? `counting`: also those of the rows that are really stored. */
async function isSame(context: ClientContext, reached: Reached, counting: boolean): Promise<boolean> {
  const { state, page } = reached;
  if (!sameTally(state, page)) return false;
  return !counting || sameTally(recount(await context.store.recordsOfFeed(state.feed)), page);
}

/** What is noted of a feed follows from what is stored. A crash before it is seen as a difference once more. */
function noteRecount(context: ClientContext, feed: string): Promise<FeedState | null> {
  const { store } = context;
  return context.exclusive(async () => {
    const state = (await store.feeds()).find((one) => one.feed === feed);
    if (!state) return null;
    const noted = { ...state, ...recount(await store.recordsOfFeed(feed)) };
    await store.commit([{ put: 'feed', state: noted }]);
    return noted;
  });
}

/** Rows and cursor go in one commit; whatever happens next, the feed is pulled from its beginning. */
export function clearFeed(context: ClientContext, feed: string): Promise<void> {
  return context.exclusive(() => context.store.commit([{ drop: 'feed', feed }]));
}

async function again(context: ClientContext, feed: string, from: FeedState | null, rows: number) {
  const pages = await pullPages(context, feed, from);
  const same = pages.reached !== null && (await isSame(context, pages.reached, true));
  return { ...pages, rows: rows + pages.rows, same };
}

async function pullAnew(context: ClientContext, feed: string, rows: number): Promise<Agreement> {
  await clearFeed(context, feed);
  const { same, ...pages } = await again(context, feed, null, rows);
  return { ...pages, repaired: false, reset: true, differs: pages.reached !== null && !same };
}

/**
 * At the tail, count and content hash must be the server's. If not: find and replace what differs; if that is not
 * enough, drop the feed and pull it from its beginning. `counting` counts the stored rows even where the running
 * count and hash are right, which finds rows that changed under the library.
 */
export async function agree(context: ClientContext, feed: string, first: Pages, counting: boolean): Promise<Agreement> {
  const unchanged = { repaired: false, reset: false, differs: false };
  if (!first.reached || (await isSame(context, first.reached, counting))) return { ...first, ...unchanged };
  const found = await repair(context, feed);
  if (found === 'fruitless') return pullAnew(context, feed, first.rows);
  if (found !== 'mended') return { ...first, ...unchanged, reached: null, problem: found };
  const { same, ...mended } = await again(context, feed, await noteRecount(context, feed), first.rows);
  if (same || mended.problem) return { ...mended, ...unchanged, repaired: same };
  return pullAnew(context, feed, mended.rows);
}
