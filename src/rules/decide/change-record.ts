import type { Fields } from '../../protocol/read-mutation.ts';
import type { RecordState, Voided } from '../../protocol/record.ts';
import type { Held } from '../held.ts';
import { applyIntent, type Intent } from '../merge/apply-intent.ts';
import { type MergeMemory, VOIDED } from '../merge/merge-memory.ts';
import type { Change } from './decision.ts';
import { personOf, type Request } from './request.ts';

function nextFields(held: Held, set: Fields): Fields {
  const next = new Map(Object.entries(held.state.fields));
  for (const [field, value] of Object.entries(set)) {
    if (field === VOIDED) continue;
    if (value === null || value === undefined) next.delete(field);
    else next.set(field, value);
  }
  return Object.fromEntries(next);
}

function nextVoided(held: Held, set: Fields, reason: string | null, by: string | null): Voided | null {
  if (!(VOIDED in set)) return held.state.voided;
  return set[VOIDED] === true ? { reason: reason ?? 'no reason was given', by } : null;
}

/** A change of a record that was here before: it is remembered. */
export interface Changed extends Change {
  readonly held: Held & { readonly memory: MergeMemory };
}

/** The record after a change, one revision on, with the memory that a later merge needs. */
export function changeRecord(request: Request, held: Held, intent: Intent): Changed {
  const rev = held.state.rev + 1;
  const by = personOf(request);
  const { client } = request.writer;
  const mutation = request.read.mutation.mutationId;
  const reason = request.read.mutation.reason ?? null;
  const memory = applyIntent(held.state, held.memory, { client, mutation, by, rev }, intent);
  const state: RecordState = {
    ...held.state,
    rev,
    by,
    client,
    mutation,
    reason,
    voided: nextVoided(held, intent.set, reason, by),
    fields: nextFields(held, intent.set),
  };
  const { clock } = request;
  return { held: { ...held, state, memory }, leaves: null, intent: clock === null ? intent : { ...intent, clock } };
}
