import type { Batch } from './batch.ts';
import { citedFeeds } from './cited-feeds.ts';
import type { ClientContext } from './context.ts';
import { narrowPush } from './line.ts';
import { type NewIdentity, takeNewIdentity } from './new-identity.ts';
import { type Replay, replayAfter } from './replay.ts';
import { isReset, NO_ANSWER, type Problem } from './transport.ts';

/** What was done about it; `anew` begins with other numbers or another client id. */
export type Recovery = { readonly type: 'stop' | 'smaller' } | ({ readonly type: 'anew' } & Replay);

const STOP: Recovery = { type: 'stop' };

async function replay(context: ClientContext, lastMutation: number, clear: readonly string[] = []): Promise<Recovery> {
  return { type: 'anew', ...(await replayAfter(context, { lastMutation, epoch: null, clear })) };
}

/**
 * The revisions that the lines name are of another history: those feeds are begun anew, and what the server does not
 * know is said again. What it knows keeps its bytes, and cites nothing any more.
 */
async function otherHistory(context: ClientContext, lastMutation: number): Promise<Recovery> {
  const cited = await citedFeeds(context.store);
  return replay(
    context,
    lastMutation,
    cited.map(({ feed }) => feed),
  );
}

async function newIdentity(context: ClientContext, why: NewIdentity = 'used-twice'): Promise<Recovery> {
  await takeNewIdentity(context, why);
  return { type: 'anew', replayed: 0, newIdentities: 1 };
}

/** Halving finds the line that is too much. */
function smallerOrStop(context: ClientContext, batch: Batch): Recovery {
  if (batch.entries.length === 1) return STOP;
  narrowPush(context.line, batch.entries.length);
  return { type: 'smaller' };
}

/** The lines before the one that is not to be had under this id get their answers first; from it on all is said anew. */
async function answersFirst(context: ClientContext, batch: Batch, before: number, why: NewIdentity): Promise<Recovery> {
  if (before <= 0 || before >= batch.entries.length) return newIdentity(context, why);
  context.line.pushMutations = before;
  return { type: 'smaller' };
}

/** Another device has used the number. */
function beforeReused(context: ClientContext, batch: Batch, reused: number | null): Promise<Recovery> {
  const before = reused === null ? Math.floor(batch.entries.length / 2) : reused - batch.first;
  return answersFirst(context, batch, before, 'used-twice');
}

/**
 * This phone has a token of another device now, or its store was copied to another device: what the server has of it,
 * it answers all the same.
 */
function beforeUnknown(context: ClientContext, batch: Batch, unknown: number | null): Promise<Recovery> {
  return answersFirst(context, batch, unknown === null ? 0 : unknown - batch.first, 'other-device');
}

/** What to do about a push that was not answered with 200. Nothing is dropped in any case. */
export async function recoverPush(context: ClientContext, batch: Batch, problem: Problem): Promise<Recovery> {
  const { code, status, expected, lastMutation } = problem;
  if (code === 'mutation_gap' && expected !== null) {
    // More than we offered first can only come of a second device under our id.
    return expected <= batch.first ? replay(context, expected - 1) : newIdentity(context);
  }
  if (code === 'client_of_other') return beforeUnknown(context, batch, problem.mutation);
  if (code === 'mutation_reused') return beforeReused(context, batch, problem.mutation);
  if (isReset(problem) && lastMutation !== null) return otherHistory(context, lastMutation);
  if (status === 413) return smallerOrStop(context, batch);
  // Lost on the way, or too much for something on the way: the same lines again at the next sync, in a smaller body.
  // Not so 503: the server is busy, and would be more so with many small bodies.
  if (code === NO_ANSWER || (status !== null && status >= 500 && status !== 503))
    narrowPush(context.line, batch.entries.length);
  return STOP;
}
