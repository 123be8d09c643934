import type { z } from 'zod';
import type { base } from '../protocol/mutation.ts';
import { type OwnWork, pendingOf } from './own-work.ts';
import type { OutboxEntry } from './store.ts';

export type Base = z.output<typeof base>;

/** The base that stands for "what I had after this entry", said by the client that is ours now. */
function afterEntry(entry: OutboxEntry, client: string): Base | undefined {
  if (entry.client === client) return { after: entry.mutationId };
  // Written under a client id that was given up: only the revision that it brought can still be named.
  const { outcome } = entry;
  return outcome?.outcome === 'applied' && outcome.rev !== undefined ? { rev: outcome.rev } : undefined;
}

/**
 * What the person had seen when making this change. A revision that this device wrote and still keeps is named by
 * its mutation and not by its number: a server that is set back to an older copy counts revisions anew, and a number
 * could then stand for a change that nobody here has seen. Without a base every difference is kept as a conflict.
 */
export function baseOf(work: OwnWork, client: string): Base | undefined {
  const last = pendingOf(work).at(-1);
  if (last) return afterEntry(last, client);
  const { synced, entries } = work;
  if (!synced) return undefined;
  const wrote = entries.find((entry) => entry.client === synced.client && entry.mutationId === synced.mutation);
  return wrote?.client === client ? { after: wrote.mutationId } : { rev: synced.rev };
}
