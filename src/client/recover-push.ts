import type { Batch } from './batch.ts';
import type { ClientContext } from './context.ts';
import { narrowPush } from './line.ts';
import { takeNewIdentity } from './new-identity.ts';
import { type Replay, replayAfter } from './replay.ts';
import { isReset, NO_ANSWER, type Problem } from './transport.ts';

/** What was done about it; `anew` begins with other numbers or another client id. */
export type Recovery = { readonly type: 'stop' | 'smaller' } | ({ readonly type: 'anew' } & Replay);

const STOP: Recovery = { type: 'stop' };

async function replay(context: ClientContext, lastMutation: number): Promise<Recovery> {
  return { type: 'anew', ...(await replayAfter(context, { lastMutation, epoch: null, clear: [] })) };
}

async function newIdentity(context: ClientContext): Promise<Recovery> {
  await takeNewIdentity(context);
  return { type: 'anew', replayed: 0, newIdentities: 1 };
}

/** Halving finds the line that is too much. */
function smallerOrStop(context: ClientContext, batch: Batch): Recovery {
  if (batch.entries.length === 1) return STOP;
  narrowPush(context.line, batch.entries.length);
  return { type: 'smaller' };
}

/** The lines before the one that another device has used get their answers first; from that one on all is said anew. */
async function beforeReused(context: ClientContext, batch: Batch, reused: number | null): Promise<Recovery> {
  const before = reused === null ? Math.floor(batch.entries.length / 2) : reused - batch.first;
  if (before <= 0 || before >= batch.entries.length) return newIdentity(context);
  context.line.pushMutations = before;
  return { type: 'smaller' };
}

/** What to do about a push that was not answered with 200. Nothing is dropped in any case. */
export async function recoverPush(context: ClientContext, batch: Batch, problem: Problem): Promise<Recovery> {
  const { code, status, expected, lastMutation } = problem;
  if (code === 'mutation_gap' && expected !== null) {
    // More than we offered first can only come of a second device under our id.
    return expected <= batch.first ? replay(context, expected - 1) : newIdentity(context);
  }
  // This store was copied to a device with a token of its own.
  if (code === 'client_of_other') return newIdentity(context);
  if (code === 'mutation_reused') return beforeReused(context, batch, problem.mutation);
  if (isReset(problem) && lastMutation !== null) return replay(context, lastMutation);
  if (status === 413) return smallerOrStop(context, batch);
  // Lost on the way, or too much for something on the way: the same lines again at the next sync, in a smaller body.
  // Not so 503: the server is busy, and would be more so with many small bodies.
  if (code === NO_ANSWER || (status !== null && status >= 500 && status !== 503))
    narrowPush(context.line, batch.entries.length);
  return STOP;
}
