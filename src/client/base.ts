import { type Base, ownValues } from './own-values.ts';
import { type OwnWork, pendingOf } from './own-work.ts';
import type { OutboxEntry } from './store.ts';

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
 * What the person had seen when making this change: the synced revision, with what own work lay over it that it does not
 * tell of yet; or, of what was never synced, "what I had after my last mutation".
 */
export function baseOf(work: OwnWork, client: string, was: Was): Base | undefined {
  const { synced, entries } = work;
  const pending = pendingOf(work);
  const last = pending.at(-1);
  if (!last) return synced ? { rev: synced.rev } : undefined;
  if (synced) return { rev: synced.rev, under: ownValues(pending, client, entries) };
  // Written under a client id that was given up, so its number means nothing to the one that is ours now.
  return last.client === client ? { after: last.mutationId } : baseOfAnswered(last, was);
}
