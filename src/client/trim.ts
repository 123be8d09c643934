import { coversOf } from './base-anew.ts';
import { type ClientContext, identityOf } from './context.ts';
import { linesBefore, mutationOf } from './own-values.ts';
import { isReflected, newest, type Reach, reachOf } from './reflected.ts';
import type { Change, Identity, OutboxEntry } from './store.ts';
import { isTrouble } from './troubles.ts';

/** Would the server still know it after losing its database? */
function isDurable(entry: OutboxEntry, identity: Identity): boolean {
  if (entry.client === identity.client) return entry.mutationId <= identity.durable;
  // Said under a client id given up before the present one was made: older than the first mutation of that.
  return identity.durable >= 1;
}

async function isShown(context: ClientContext, entry: OutboxEntry, reach: Reach): Promise<boolean> {
  const { outcome } = entry;
  // Set aside and seen to: if it is applied after all, it comes back with its feed.
  if (entry.dismissed) return true;
  // A feed that this device does not follow will never show it.
  if (outcome?.feed !== undefined && !reach.has(outcome.feed)) return true;
  const copy = newest(await context.store.copies(entry.id));
  if (isReflected(entry, copy, reach)) return true;
  // Told in a history that was set back, and handed in anew by a partner: the place that was told may never come.
  return outcome?.rev !== undefined && copy !== null && copy.rev >= outcome.rev;
}

/** The lines that an unanswered one builds on. */
function citedByLine(entry: OutboxEntry, outbox: readonly OutboxEntry[]): string[] {
  const mutation = mutationOf(entry);
  const { base } = mutation;
  if (base === undefined || 'was' in base) return [];
  if ('after' in base) return [`${entry.client} ${base.after}`];
  return coversOf(mutation, linesBefore(entry, outbox)).flatMap(([, line]) =>
    line ? [`${line.entry.client} ${line.entry.mutationId}`] : [],
  );
}

/** What unanswered lines name or laid over as their base: a change of the client id has to know what became of it. */
function citedBy(outbox: readonly OutboxEntry[]): ReadonlySet<string> {
  return new Set(outbox.flatMap((entry) => (entry.outcome === null ? citedByLine(entry, outbox) : [])));
}

/**
 * Drops what the server has safely and the synced rows tell. Called after a complete pull: before it, a row that is
 * not here yet cannot be told from one that will never come.
 */
export function trim(context: ClientContext): Promise<void> {
  return context.exclusive(async () => {
    const { store } = context;
    const identity = await identityOf(store);
    const outbox = await store.outbox();
    const reach = reachOf(await store.feeds());
    const cited = citedBy(outbox);
    const changes: Change[] = [];
    for (const entry of outbox) {
      const { client, mutationId, outcome } = entry;
      if (outcome === null || !isDurable(entry, identity) || cited.has(`${client} ${mutationId}`)) continue;
      if ((await isTrouble(context, entry)) || !(await isShown(context, entry, reach))) continue;
      changes.push({ drop: 'entry', client, mutationId });
    }
    if (changes.length > 0) await store.commit(changes);
  });
}
