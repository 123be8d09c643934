import type { Outcome } from '../protocol/mutation.ts';
import { acknowledge } from './acknowledge.ts';
import { askFeeds } from './ask-feeds.ts';
import { nextBatch } from './batch.ts';
import { type CitingBatch, citing } from './cited-feeds.ts';
import { type ClientContext, identityOf } from './context.ts';
import { widenPush } from './line.ts';
import { takeNewIdentity } from './new-identity.ts';
import { recoverPush } from './recover-push.ts';
import { sendBatch } from './send-batch.ts';
import { NO_ANSWER, type Problem } from './transport.ts';

export interface PushResult {
  /** What was heard of mutations that had no answer before. */
  readonly outcomes: readonly Outcome[];
  readonly newIdentities: number;
  readonly replayed: number;
  /** Why mutations stay unsent; null when none do. */
  readonly problem: Problem | null;
}

/** How often one push may begin anew after a 409 before it is left to the next sync: a bound, so that nothing spins. */
const MAX_RECOVERIES = 4;

interface Progress {
  readonly outcomes: Outcome[];
  newIdentities: number;
  replayed: number;
  recoveries: number;
  /** A client id of which the server knows more than was ever captured here. */
  foreign: string | null;
  /** The client id for which it was tried to tell the server what this phone knew. */
  asked: string | null;
}

const SILENT: Problem = {
  status: 200,
  code: 'unanswered_lines',
  detail: 'the server answered the push but said nothing of its lines; they stay here',
  retryAfterMs: null,
  expected: null,
  mutation: null,
  reason: null,
  lastMutation: null,
};

/** One request; the problem that stops the push, or null to go on. */
async function pushOne(context: ClientContext, batch: CitingBatch, progress: Progress): Promise<Problem | null> {
  const answer = await sendBatch(context, batch);
  if (answer.ok) {
    const { outcomes, foreign } = await acknowledge(context, batch, answer.value);
    progress.outcomes.push(...outcomes);
    widenPush(context.line);
    if (foreign) progress.foreign = batch.entries[0]?.client ?? null;
    return outcomes.length > 0 ? null : SILENT;
  }
  const recovery = await recoverPush(context, batch, answer.problem);
  if (recovery.type !== 'anew') return recovery.type === 'stop' ? answer.problem : null;
  progress.recoveries += 1;
  progress.newIdentities += recovery.newIdentities;
  progress.replayed += recovery.replayed;
  return progress.recoveries > MAX_RECOVERIES ? answer.problem : null;
}

/**
 * Under a client id that is new to the server, this phone first says which list of feeds it knew: a crew has its right
 * by that. Where the server answers but does not take it, the records must not wait for it.
 */
async function tellFirst(context: ClientContext, client: string, progress: Progress): Promise<Problem | null> {
  if (context.line.told === client || progress.asked === client) return null;
  progress.asked = client;
  const answer = await askFeeds(context);
  return answer.ok || answer.problem.code !== NO_ANSWER ? null : answer.problem;
}

/** Pushes until nothing is unanswered or something is in the way. What was set aside or refused is not in the way. */
export async function pushAll(context: ClientContext): Promise<PushResult> {
  const progress: Progress = { outcomes: [], newIdentities: 0, replayed: 0, recoveries: 0, foreign: null, asked: null };
  for (;;) {
    const { client } = await identityOf(context.store);
    const next = nextBatch(await context.store.outbox(), client, context.line.pushMutations);
    const batch = next && (await citing(context.store, next));
    const problem =
      batch && ((await tellFirst(context, client, progress)) ?? (await pushOne(context, batch, progress)));
    if (batch && !problem) continue;
    // Not before all was asked for: the server may have more of it, and would be told that anew.
    if (!batch && progress.foreign === client) {
      await takeNewIdentity(context);
      progress.newIdentities += 1;
    }
    const { outcomes, newIdentities, replayed } = progress;
    return { outcomes, newIdentities, replayed, problem };
  }
}
