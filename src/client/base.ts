import type { z } from 'zod';
import type { base } from '../protocol/mutation.ts';
import { type OwnWork, pendingOf } from './own-work.ts';
import type { OutboxEntry } from './store.ts';

export type Base = z.output<typeof base>;

export type Was = OutboxEntry['was'];

/** The base in values, where revisions say nothing; without one the server supersedes nothing of anybody else. */
export function baseInValues(was: Was): Base | undefined {
  return was === null ? undefined : { was: { ...was } };
}

/** The revision that an entry brought, as a base for another client id, if nothing unseen was merged into it. */
export function baseOfAnswered(entry: Pick<OutboxEntry, 'outcome'> | undefined, was: Was): Base | undefined {
  const { outcome } = entry ?? {};
  return outcome?.outcome === 'applied' && outcome.rev !== undefined ? { rev: outcome.rev } : baseInValues(was);
}

/**
 * What the person had seen when making this change: the synced revision, or, while that does not tell of the own last
 * mutation yet, "what I had after it".
 */
export function baseOf(work: OwnWork, client: string, was: Was): Base | undefined {
  const last = pendingOf(work).at(-1);
  // Written under a client id that was given up, so its number means nothing to the one that is ours now.
  if (last) return last.client === client ? { after: last.mutationId } : baseOfAnswered(last, was);
  return work.synced ? { rev: work.synced.rev } : undefined;
}
