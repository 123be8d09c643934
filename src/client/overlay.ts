import type { Mutation } from '../protocol/mutation.ts';
import type { RecordState } from '../protocol/record.ts';
import { type OwnWork, pendingOf } from './own-work.ts';
import type { OutboxEntry } from './store.ts';

/** How far a record has come: only here, known to the server but not pulled, set aside there, or all synced. */
export type Standing = 'unsent' | 'sent' | 'set-aside' | 'synced';

export interface ViewRecord {
  readonly standing: Standing;
  /** As the server has it, with this device's own changes laid over; rev 0 while the server has none. */
  readonly record: RecordState;
  /** The own mutations that are laid over, in order. */
  readonly laidOver: readonly number[];
}

function fieldsAfter(old: RecordState['fields'], set: Mutation['set']): RecordState['fields'] {
  return Object.fromEntries(Object.entries({ ...old, ...set }).filter(([, value]) => value !== null));
}

const DECIDED = { standing: 'resolved' };

function effectOf(old: RecordState | null, mutation: Mutation): Pick<RecordState, 'fields' | 'voided'> | null {
  const { verb, set, reason = '', by = null } = mutation;
  if (verb === 'record') return { fields: fieldsAfter(old?.fields ?? {}, set), voided: old?.voided ?? null };
  // A change of something that this device holds no longer: its feed was dropped.
  if (old === null) return null;
  if (verb === 'void') return { fields: old.fields, voided: { reason, by } };
  // Which value stands is the server's to write; here the conflict is only no longer asked about.
  return { fields: fieldsAfter(old.fields, verb === 'resolve' ? DECIDED : set), voided: old.voided };
}

function layOver(old: RecordState | null, entry: OutboxEntry): RecordState | null {
  const mutation = JSON.parse(entry.line) as Mutation;
  const effect = effectOf(old, mutation);
  if (!effect) return old;
  return {
    kind: entry.kind,
    id: entry.id,
    rev: old?.rev ?? 0,
    by: mutation.by ?? null,
    client: entry.client,
    mutation: entry.mutationId,
    reason: mutation.reason ?? null,
    clock: mutation.clock ? { ...mutation.clock, differenceMs: 0, uncertaintyMs: 0 } : null,
    ...effect,
  };
}

function standingOf(pending: readonly OutboxEntry[]): Standing {
  if (pending.some(({ outcome }) => outcome === null)) return 'unsent';
  if (pending.some(({ outcome }) => outcome?.outcome === 'set_aside')) return 'set-aside';
  return pending.length > 0 ? 'sent' : 'synced';
}

/** What the app shows of one record; null when there is nothing. */
export function overlay(work: OwnWork): ViewRecord | null {
  const pending = pendingOf(work);
  const record = pending.reduce(layOver, work.synced);
  if (!record) return null;
  return { standing: standingOf(pending), record, laidOver: pending.map((entry) => entry.mutationId) };
}
