import { mutationKey } from './contents.ts';
import { reissueChanges } from './reissue.ts';
import type { CarriedEntry, Change, Identity, OutboxEntry } from './store.ts';

/** What can still be read of a damaged store. */
export interface Salvage {
  readonly identity: Identity | null;
  readonly entries: readonly OutboxEntry[];
  readonly carried: readonly CarriedEntry[];
}

export interface Recovered {
  /** Mutations kept, and how many of them have no answer yet. */
  readonly kept: number;
  readonly unsent: number;
  readonly carried: number;
  /** Parts that could not be read. They are kept as they are, beside the store. */
  readonly unreadable: number;
}

function newestIdentity({ identity, entries }: Salvage, newId: () => string): Identity {
  const last = (numbers: readonly number[]) => numbers.reduce((highest, number) => Math.max(highest, number), 0);
  const sequence = Math.max(identity?.sequence ?? 0, last(entries.map((entry) => entry.sequence)));
  const { client = newId(), person = null, epoch = null, durable = 0 } = identity ?? {};
  const own = entries.filter((entry) => entry.client === client).map((entry) => entry.mutationId);
  const nextMutation = Math.max(identity?.nextMutation ?? 1, last(own) + 1);
  return { client, nextMutation, sequence, person, epoch, durable };
}

/**
 * The changes that begin a new store with what was saved of a damaged one. Feeds are pulled anew. Where the client id
 * is gone, or what was not sent belongs to another one, all that was not sent is numbered anew under a new client id;
 * a number that is missing among the others is found at the next push, which then does the same.
 */
export function changesAfter(salvage: Salvage, newId: () => string): Change[] {
  const identity = newestIdentity(salvage, newId);
  const entries = [...new Map(salvage.entries.map((entry) => [mutationKey(entry), entry])).values()];
  const stranded = entries.some((entry) => entry.outcome === null && entry.client !== identity.client);
  const which = (entry: OutboxEntry) => entry.outcome === null;
  const renumbered: Change[] = stranded
    ? reissueChanges({ identity, client: newId(), outbox: entries, which, revisionsLost: false })
    : [];
  return [
    ...entries.map((entry): Change => ({ put: 'entry', entry })),
    ...salvage.carried.map((carried): Change => ({ put: 'carried', carried })),
    { put: 'identity', identity },
    ...renumbered,
  ];
}

export function recoveredOf({ entries, carried }: Salvage, unreadable: number): Recovered {
  const unsent = entries.filter((entry) => entry.outcome === null).length;
  return { kept: entries.length, unsent, carried: carried.length, unreadable };
}
