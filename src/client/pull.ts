import { askFeeds } from './ask-feeds.ts';
import { type ClientContext, identityOf } from './context.ts';
import { type FeedPull, isCurrent, pullFeed } from './pull-feed.ts';
import { heedList } from './server-news.ts';
import type { Change } from './store.ts';
import { recount, sameTally } from './tally.ts';
import { type FeedList, type ListedFeed, NO_ANSWER, type Problem } from './transport.ts';
import { trim } from './trim.ts';

export interface FeedReset {
  readonly feed: string;
  /** The server's reason, `set_back` where the list of feeds tells, `differed` where count or hash stayed wrong after a repair. */
  readonly reason: string;
}

export interface PullResult {
  readonly rows: number;
  readonly resets: readonly FeedReset[];
  readonly repaired: readonly string[];
  readonly differing: readonly string[];
  readonly dropped: readonly string[];
  readonly replayed: number;
  readonly newIdentities: number;
  readonly problem: Problem | null;
}

interface Progress {
  rows: number;
  readonly resets: FeedReset[];
  readonly repaired: string[];
  readonly differing: string[];
  readonly dropped: string[];
  replayed: number;
  newIdentities: number;
  problem: Problem | null;
}

function note(progress: Progress, feed: string, pull: FeedPull): void {
  progress.rows += pull.rows;
  progress.replayed += pull.replayed;
  progress.newIdentities += pull.newIdentities;
  if (pull.resetReason !== null) progress.resets.push({ feed, reason: pull.resetReason });
  if (pull.reset) progress.resets.push({ feed, reason: 'differed' });
  if (pull.repaired) progress.repaired.push(feed);
  if (pull.differs) progress.differing.push(feed);
  progress.problem ??= pull.problem;
}

/** The line is down, the server is busy or we are not let in: the other feeds would fare no better. */
function concernsAll(problem: Problem | null): boolean {
  if (problem === null) return false;
  return problem.code === NO_ANSWER || [401, 403, 429, 503].includes(problem.status ?? 0);
}

async function needsPull(context: ClientContext, listed: ListedFeed, counting: boolean): Promise<boolean> {
  const state = (await context.store.feeds()).find((one) => one.feed === listed.feed) ?? null;
  if (!isCurrent(state, listed)) return true;
  return counting && !sameTally(recount(await context.store.recordsOfFeed(listed.feed)), listed);
}

/** Beginning elsewhere each time, so that a feed which cannot be pulled does not starve those after it. */
function rotated<Item>(items: readonly Item[], by: number): Item[] {
  const start = items.length === 0 ? 0 : by % items.length;
  return [...items.slice(start), ...items.slice(0, start)];
}

/**
 * What is listed no longer goes, in one commit with the note that this phone knows it from now on: unless there is
 * something unsent, which was captured when it did not.
 */
async function dropUnlisted(context: ClientContext, { feeds, serverTime }: FeedList): Promise<string[]> {
  const { store, line } = context;
  const names = new Set(feeds.map(({ feed }) => feed));
  return context.exclusive(async () => {
    const dropped = (await store.feeds()).map(({ feed }) => feed).filter((feed) => !names.has(feed));
    line.seen = serverTime;
    if (dropped.length === 0) return dropped;
    const changes = dropped.map((feed): Change => ({ drop: 'feed', feed }));
    const isUnsent = (await store.outbox()).some((entry) => entry.outcome === null);
    const identity = { ...(await identityOf(store)), seen: serverTime };
    await store.commit(isUnsent ? changes : [...changes, { put: 'identity', identity }]);
    return dropped;
  });
}

async function pullListed(context: ClientContext, feeds: readonly ListedFeed[], progress: Progress): Promise<void> {
  const { line, recountEvery } = context;
  // Feeds take turns, so that no pull has to count them all; after `recountEvery` pulls each one was counted.
  const turns = feeds.map((listed, at) => ({ listed, counting: (at + line.pulls) % recountEvery === 0 }));
  for (const { listed, counting } of rotated(turns, line.pulls)) {
    if (!(await needsPull(context, listed, counting))) continue;
    const pull = await pullFeed(context, listed.feed, counting);
    note(progress, listed.feed, pull);
    if (concernsAll(pull.problem)) return;
  }
}

/** Every feed that the server lists for this device, to its tail; what is listed no longer is dropped. */
export async function pullAll(context: ClientContext): Promise<PullResult> {
  const progress: Progress = {
    rows: 0,
    resets: [],
    repaired: [],
    differing: [],
    dropped: [],
    replayed: 0,
    newIdentities: 0,
    problem: null,
  };
  context.line.pulls += 1;
  const answer = await askFeeds(context);
  if (!answer.ok) return { ...progress, problem: answer.problem };
  const news = await heedList(context, answer.value);
  progress.replayed = news.replayed;
  progress.newIdentities = news.newIdentities;
  progress.resets.push(...news.cleared.map((feed) => ({ feed, reason: 'set_back' })));
  progress.dropped.push(...(await dropUnlisted(context, answer.value)));
  await pullListed(context, answer.value.feeds, progress);
  if (progress.problem === null) await trim(context);
  return progress;
}
