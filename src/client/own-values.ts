import type { Mutation } from '../protocol/mutation.ts';
import { VOIDED } from '../rules/merge/merge-memory.ts';
import { inOrder } from './own-work.ts';
import type { OutboxEntry } from './store.ts';

export type Base = NonNullable<Mutation['base']>;

/** A base that names a revision, and what lay over it on the screen. */
export type BaseOver = Extract<Base, { readonly rev: number }>;

export function mutationOf({ line }: Pick<OutboxEntry, 'line'>): Mutation {
  return JSON.parse(line) as Mutation;
}

export function baseIn(entry: Pick<OutboxEntry, 'line'>): Base | undefined {
  return mutationOf(entry).base;
}

/** The fields whose values on the screen are those of this mutation while it lies over a synced record. */
export function fieldsLaidOver({ verb, set = {} }: Mutation): string[] {
  if (verb === 'void') return [VOIDED];
  return verb === 'record' || verb === 'amend' || verb === 'rehome' ? Object.keys(set) : [];
}

/** What is kept of the same record from before a line, in order of capture. */
export function linesBefore({ id, sequence }: OutboxEntry, outbox: readonly OutboxEntry[]) {
  const before = outbox.filter((one) => one.id === id && one.sequence < sequence);
  return inOrder(before).map((entry) => ({ entry, mutation: mutationOf(entry) }));
}

/** The revision at which the writer of a line had last seen a field of others; 0 where that is not known. */
function seenUnder(entry: OutboxEntry, field: string, entries: readonly OutboxEntry[]): number {
  const base = baseIn(entry);
  if (base === undefined || 'was' in base) return 0;
  if ('rev' in base) return base.under && Object.hasOwn(base.under, field) ? (base.under[field] ?? 0) : base.rev;
  const before = entries.find((one) => one.client === entry.client && one.mutationId === base.after);
  return before && before.sequence < entry.sequence ? seenUnder(before, field, entries) : 0;
}

/**
 * The fields of a record that own mutations cover on the screen, each with the revision last seen under them. A value
 * given under a client id that is not ours any more counts as another's, which was seen in the revision that it brought.
 *
 * @param pending the own mutations that the synced record does not tell of, in order
 * @param entries all that are kept of the record
 */
export function ownValues(
  pending: readonly OutboxEntry[],
  client: string,
  entries: readonly OutboxEntry[],
): Readonly<Record<string, number>> {
  const under = new Map<string, number>();
  for (const entry of pending) {
    const brought = entry.client === client ? undefined : entry.outcome?.rev;
    for (const field of fieldsLaidOver(mutationOf(entry))) {
      under.set(field, brought ?? seenUnder(entry, field, entries));
    }
  }
  return Object.fromEntries(under);
}
