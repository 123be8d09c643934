import type { Mutation, Outcome } from '../protocol/mutation.ts';
import type { ClientContext } from './context.ts';
import { inOrder } from './own-work.ts';
import { newest } from './reflected.ts';
import type { OutboxEntry } from './store.ts';

/** An own mutation that the server set aside or refused; the line stays here until somebody has looked at it. */
export interface Trouble {
  readonly client: string;
  readonly mutationId: number;
  /** Of the capture on this device. */
  readonly sequence: number;
  readonly captured: string;
  readonly mutation: Mutation;
  readonly outcome: Outcome;
}

async function waitedOutcome({ store }: ClientContext, entry: OutboxEntry): Promise<boolean> {
  if (entry.outcome?.outcome !== 'set_aside') return false;
  const synced = newest(await store.copies(entry.id));
  // What it waited for has come, and the record with it: nothing is left to look at.
  return synced?.client === entry.client && synced.mutation === entry.mutationId;
}

/** Is a person still to look at it? */
export async function isTrouble(context: ClientContext, entry: OutboxEntry): Promise<boolean> {
  const named = entry.outcome?.outcome === 'set_aside' || entry.outcome?.outcome === 'refused';
  return named && !entry.dismissed && !(await waitedOutcome(context, entry));
}

export async function troubles(context: ClientContext): Promise<Trouble[]> {
  const found: Trouble[] = [];
  for (const entry of inOrder(await context.store.outbox())) {
    const { client, mutationId, sequence, captured, line, outcome } = entry;
    if (outcome === null || !(await isTrouble(context, entry))) continue;
    found.push({ client, mutationId, sequence, captured, mutation: JSON.parse(line) as Mutation, outcome });
  }
  return found;
}

/** A person has seen it; the line may go once the server's copy of it is safe. */
export function dismiss(context: ClientContext, client: string, mutationId: number): Promise<void> {
  return context.exclusive(async () => {
    const entries = await context.store.outbox();
    const entry = entries.find((one) => one.client === client && one.mutationId === mutationId);
    if (entry?.outcome) await context.store.commit([{ put: 'entry', entry: { ...entry, dismissed: true } }]);
  });
}
