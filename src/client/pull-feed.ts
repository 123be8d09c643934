import { type Agreement, agree, clearFeed } from './agree.ts';
import { type ClientContext, identityOf } from './context.ts';
import { pullPages } from './pull-pages.ts';
import { type Replay, replayAfter } from './replay.ts';
import { highestAnswered } from './server-news.ts';
import type { FeedState } from './store.ts';
import { sameTally } from './tally.ts';
import { isReset, type ListedFeed, type Problem } from './transport.ts';

export interface FeedPull extends Agreement, Replay {
  /** The server's reason why the feed was begun anew, if it said so. */
  readonly resetReason: string | null;
}

/** Nothing to ask for: the tail was reached before, and the list says that it has not moved. */
export function isCurrent(state: FeedState | null, listed: ListedFeed): boolean {
  return state?.complete === true && state.seq === listed.tail && sameTally(state, listed);
}

const NOTHING_REPLAYED: Replay = { replayed: 0, newIdentities: 0 };

/**
 * Where the news of what is long gone was dropped, or the cursor is of the token that this phone had before and the
 * server has all that it answered us, the history is the one that we know: every revision still means what it did.
 */
async function isKnownHistory(context: ClientContext, { reason, lastMutation }: Problem): Promise<boolean> {
  if (reason !== 'other_reader' || lastMutation === null) return reason === 'below_floor';
  const { client } = await identityOf(context.store);
  return (await highestAnswered(context, client)) <= lastMutation;
}

/** The cursor is refused: the feed is begun anew, and what the server does not know of us is said again. */
export async function resetBy(context: ClientContext, feed: string, problem: Problem): Promise<Replay> {
  if (await isKnownHistory(context, problem)) {
    await clearFeed(context, feed);
    return NOTHING_REPLAYED;
  }
  const lastMutation = problem.lastMutation ?? Number.MAX_SAFE_INTEGER;
  return replayAfter(context, { lastMutation, epoch: null, clear: [feed] });
}

/** One feed to its tail, checked. A cursor that the server does not take any more is given up once, not for ever. */
export async function pullFeed(context: ClientContext, feed: string, counting: boolean): Promise<FeedPull> {
  const state = (await context.store.feeds()).find((one) => one.feed === feed) ?? null;
  const pages = await pullPages(context, feed, state);
  if (!pages.problem || !isReset(pages.problem)) {
    return { ...(await agree(context, feed, pages, counting)), resetReason: null, replayed: 0, newIdentities: 0 };
  }
  const replay = await resetBy(context, feed, pages.problem);
  const anew = await agree(context, feed, await pullPages(context, feed, null), counting);
  return { ...anew, ...replay, resetReason: pages.problem.reason ?? 'unknown' };
}
