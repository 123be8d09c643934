import { askFeeds } from './ask-feeds.ts';
import { citedFeeds } from './cited-feeds.ts';
import { type ClientContext, identityOf } from './context.ts';
import { isCurrent, resetBy } from './pull-feed.ts';
import type { Replay } from './replay.ts';
import { heedList } from './server-news.ts';
import type { FeedState } from './store.ts';
import { type FeedList, isReset, type Problem } from './transport.ts';

export interface BeforePush extends Replay {
  /** Feeds that have to be begun anew, with the server's reason. */
  readonly resets: readonly { readonly feed: string; readonly reason: string }[];
  readonly problem: Problem | null;
}

/** One row is enough to learn whether the server still has the history of our cursor; the pull brings it again. */
async function probe(context: ClientContext, state: FeedState): Promise<Problem | null> {
  const { feed, cursor } = state;
  const { client } = await identityOf(context.store);
  const answer = await context.transport.page({ feed, cursor, limit: 1, client });
  return answer.ok ? null : answer.problem;
}

async function probeMoved(context: ClientContext, list: FeedList, news: Replay): Promise<BeforePush> {
  let { replayed, newIdentities } = news;
  const resets: { feed: string; reason: string }[] = [];
  for (const state of await citedFeeds(context.store)) {
    const listed = list.feeds.find(({ feed }) => feed === state.feed);
    if (!listed || isCurrent(state, listed)) continue;
    const problem = await probe(context, state);
    if (!problem) continue;
    if (!isReset(problem)) return { replayed, newIdentities, resets, problem };
    const replay = await resetBy(context, state.feed, problem);
    replayed += replay.replayed;
    newIdentities += replay.newIdentities;
    resets.push({ feed: state.feed, reason: problem.reason ?? 'unknown' });
  }
  return { replayed, newIdentities, resets, problem: null };
}

/**
 * A revision means something only in the history in which it was seen. A server that was set back counts again, and
 * a change pushed with an old revision as its base would overwrite, unseen, what others have said since. So before
 * anything is pushed the server is asked which history it has: by its list of feeds, and, where a line names a
 * revision in a feed that has moved, by one row of that feed. What becomes of it while the push is on its way, the
 * server sees by the cursors in its header.
 */
export async function checkBeforePush(context: ClientContext): Promise<BeforePush> {
  const nothing = { replayed: 0, newIdentities: 0, resets: [], problem: null };
  if (!(await context.store.outbox()).some((entry) => entry.outcome === null)) return nothing;
  const answer = await askFeeds(context);
  if (!answer.ok) return { ...nothing, problem: answer.problem };
  const { cleared, ...news } = await heedList(context, answer.value);
  const after = await probeMoved(context, answer.value, news);
  return { ...after, resets: [...cleared.map((feed) => ({ feed, reason: 'set_back' })), ...after.resets] };
}
