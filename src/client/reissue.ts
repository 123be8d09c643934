import type { Mutation } from '../protocol/mutation.ts';
import { baseInValues, baseOfAnswered } from './base.ts';
import { baseOverAnew, type Earlier } from './base-anew.ts';
import { type Base, type BaseOver, baseIn, linesBefore, mutationOf } from './own-values.ts';
import { inOrder } from './own-work.ts';
import type { Change, Identity, OutboxEntry } from './store.ts';

function key(client: string, mutationId: number): string {
  return `${client} ${mutationId}`;
}

/** The same mutation with another number or base; what was observed, by whom and when stays as it was captured. */
export function withBase(entry: OutboxEntry, mutationId: number, base: Base | undefined): OutboxEntry {
  const line = JSON.stringify({ ...(JSON.parse(entry.line) as Mutation), mutationId, base });
  return { ...entry, mutationId, line, outcome: null, dismissed: false };
}

export interface Reissue {
  readonly identity: Identity;
  /** The client id from now on. */
  readonly client: string;
  readonly outbox: readonly OutboxEntry[];
  readonly which: (entry: OutboxEntry) => boolean;
  /** The server was set back, so that a revision may by now stand for what nobody here has seen. */
  readonly revisionsLost: boolean;
}

function overAnew(entry: OutboxEntry, base: BaseOver, outbox: readonly OutboxEntry[], which: Reissue['which']) {
  const earlier = linesBefore(entry, outbox).map(({ entry: one, mutation }): Earlier => {
    return { mutation, outcome: one.outcome, moves: which(one) };
  });
  return baseOverAnew(base, { mutation: mutationOf(entry), was: entry.was }, earlier);
}

/**
 * Writes mutations anew under another client id, numbered from 1 in order of capture, in one commit with that
 * identity. A base `{ after: n }` names a mutation of the client id that is given up: where n is reissued too, its new
 * number stands for it; where it was answered, the revision that it brought does if nothing unseen was merged into
 * it, or else the values that were on the screen. A base `{ rev, under }` says the same of the values that lay over it.
 */
export function reissueChanges({ identity, client, outbox, which, revisionsLost }: Reissue): Change[] {
  const moving = inOrder(outbox.filter(which));
  const numbers = new Map(moving.map((entry, at) => [key(entry.client, entry.mutationId), at + 1]));
  const known = new Map(outbox.map((entry) => [key(entry.client, entry.mutationId), entry]));
  const baseFor = (entry: OutboxEntry): Base | undefined => {
    const base = baseIn(entry);
    if (base === undefined || 'was' in base) return base;
    if ('rev' in base) return revisionsLost ? baseInValues(entry.was) : overAnew(entry, base, outbox, which);
    const after = numbers.get(key(entry.client, base.after));
    if (after !== undefined) return { after };
    return revisionsLost
      ? baseInValues(entry.was)
      : baseOfAnswered(known.get(key(entry.client, base.after)), entry.was);
  };
  const changes = moving.flatMap((entry, at): Change[] => [
    { drop: 'entry', client: entry.client, mutationId: entry.mutationId },
    { put: 'entry', entry: { ...withBase(entry, at + 1, baseFor(entry)), client } },
  ]);
  const next: Identity = { ...identity, client, nextMutation: moving.length + 1, durable: 0 };
  return [...changes, { put: 'identity', identity: next }];
}
