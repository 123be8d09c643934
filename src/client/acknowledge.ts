import type { Outcome } from '../protocol/mutation.ts';
import type { Batch } from './batch.ts';
import { type ClientContext, identityOf } from './context.ts';
import type { Change } from './store.ts';
import type { PushAnswer } from './transport.ts';

export interface Acknowledged {
  readonly outcomes: readonly Outcome[];
  /** The server knows more mutations of this client than were ever made here. */
  readonly foreign: boolean;
}

/** Notes what the server said of each line, by its number; a line that it did not mention stays unanswered. */
export function acknowledge(context: ClientContext, batch: Batch, answer: PushAnswer): Promise<Acknowledged> {
  return context.exclusive(async () => {
    const { store } = context;
    const identity = await identityOf(store);
    const said = new Map(answer.outcomes.map((outcome) => [outcome.mutationId, outcome]));
    const entries = batch.entries.flatMap((entry) => {
      const outcome = entry.outcome === null ? said.get(entry.mutationId) : undefined;
      return outcome ? [{ ...entry, outcome }] : [];
    });
    const durable = Math.min(Math.max(identity.durable, answer.durable), identity.nextMutation - 1);
    const noted = entries.map((entry): Change => ({ put: 'entry', entry }));
    await store.commit([...noted, { put: 'identity', identity: { ...identity, durable } }]);
    return {
      outcomes: entries.map((entry) => entry.outcome),
      foreign: answer.lastMutation >= identity.nextMutation,
    };
  });
}
