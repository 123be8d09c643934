import canonicalize from 'canonicalize';
import type { Mutation, Outcome } from '../protocol/mutation.ts';
import type { RecordState } from '../protocol/record.ts';
import { derivedId } from '../rules/derived-id.ts';
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

/** Does the record, as the server has it now, tell what this mutation was to do? Also where others changed it since. */
function isTold({ verb, set = {} }: Mutation, { fields, voided }: RecordState, entry: OutboxEntry): boolean {
  if (verb === 'record') return true;
  if (verb === 'void') return voided !== null;
  // by this very decision: another may have chosen otherwise
  if (verb === 'resolve') return fields.resolution === derivedId(entry.client, 'resolution', String(entry.mutationId));
  const told = Object.entries(set).filter(([name, value]) => isSame(fields[name] ?? null, value));
  return told.length > 0 && told.length === Object.keys(set).length;
}

function isSame(one: unknown, other: unknown): boolean {
  return canonicalize(one) === canonicalize(other);
}

/** What it waited for has come, or somebody released it, and the record with it: nothing is left to look at. */
async function waitedOutcome({ store }: ClientContext, entry: OutboxEntry): Promise<boolean> {
  if (entry.outcome?.outcome !== 'set_aside') return false;
  const synced = newest(await store.copies(entry.id));
  if (synced === null) return false;
  // another record has its id: that one does not tell of this
  if (entry.outcome.code === 'id_taken') return false;
  const isNewest = synced.client === entry.client && synced.mutation === entry.mutationId;
  return isNewest || isTold(JSON.parse(entry.line) as Mutation, synced, entry);
}

/** Is a person still to look at it? */
export async function isTrouble(context: ClientContext, entry: OutboxEntry): Promise<boolean> {
  const named = entry.outcome?.outcome === 'set_aside' || entry.outcome?.outcome === 'refused';
  return named && !entry.dismissed && !(await waitedOutcome(context, entry));
}

async function named({ store }: ClientContext, isMeant: (entry: OutboxEntry) => Promise<boolean>): Promise<Trouble[]> {
  const found: Trouble[] = [];
  for (const entry of inOrder(await store.outbox())) {
    const { client, mutationId, sequence, captured, line, outcome } = entry;
    if (outcome === null || !(await isMeant(entry))) continue;
    found.push({ client, mutationId, sequence, captured, mutation: JSON.parse(line) as Mutation, outcome });
  }
  return found;
}

export function troubles(context: ClientContext): Promise<Trouble[]> {
  return named(context, (entry) => isTrouble(context, entry));
}

/** What was set aside and is in the records since; a line is named as long as the outbox keeps it. */
export function releasedSince(context: ClientContext): Promise<Trouble[]> {
  return named(context, (entry) => waitedOutcome(context, entry));
}

/** A person has seen it; the line may go once the server's copy of it is safe. */
export function dismiss(context: ClientContext, client: string, mutationId: number): Promise<void> {
  return context.exclusive(async () => {
    const entries = await context.store.outbox();
    const entry = entries.find((one) => one.client === client && one.mutationId === mutationId);
    if (entry?.outcome) await context.store.commit([{ put: 'entry', entry: { ...entry, dismissed: true } }]);
  });
}
