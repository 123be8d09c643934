import { type ClientContext, identityOf } from './context.ts';
import { reissueChanges } from './reissue.ts';
import type { Change, Identity, OutboxEntry } from './store.ts';

function forgotten(entry: OutboxEntry, client: string, lastMutation: number): boolean {
  return entry.client === client && entry.mutationId > lastMutation && entry.outcome !== null;
}

/** Of the entries that are unanswered by now, is the next one the server expects still here? */
function isGap(outbox: readonly OutboxEntry[], client: string, lastMutation: number): boolean {
  const unanswered = outbox.filter((entry) => entry.client === client && entry.outcome === null);
  const first = Math.min(...unanswered.map((entry) => entry.mutationId));
  return unanswered.length > 0 && first > lastMutation + 1;
}

function replayChanges(identity: Identity, before: readonly OutboxEntry[], lastMutation: number, newId: () => string) {
  const { client } = identity;
  const outbox = before.map((entry) => (forgotten(entry, client, lastMutation) ? { ...entry, outcome: null } : entry));
  const former = outbox.some((entry) => entry.client !== client);
  // Numbers that the server wants and we no longer keep, or lines of a client id that we gave up: a new id for all.
  if (former || isGap(outbox, client, lastMutation)) {
    return reissueChanges(identity, newId(), outbox, (entry) => entry.outcome === null || entry.client !== client);
  }
  const changed = outbox.filter((entry, at) => entry !== before[at]);
  const durable = Math.min(identity.durable, lastMutation);
  const entries = changed.map((entry): Change => ({ put: 'entry', entry }));
  return [...entries, { put: 'identity', identity: { ...identity, durable } } satisfies Change];
}

export interface SetBack {
  /** The last mutation of this client that the server knows now. */
  readonly lastMutation: number;
  readonly epoch: string | null;
  /** Feeds to be begun anew, in the same commit. */
  readonly clear: readonly string[];
}

/**
 * The server was set back to an older copy: everything later that this device still keeps counts as unanswered, so
 * that the next push says it again. Gives back how many mutations that are.
 */
export function replayAfter(context: ClientContext, setBack: SetBack): Promise<number> {
  return context.exclusive(async () => {
    const { store } = context;
    const identity = await identityOf(store);
    const outbox = await store.outbox();
    const now: Identity = { ...identity, epoch: setBack.epoch ?? identity.epoch };
    const changes = replayChanges(now, outbox, setBack.lastMutation, context.newId);
    const dropped = setBack.clear.map((feed): Change => ({ drop: 'feed', feed }));
    await store.commit([...dropped, ...changes]);
    return changes.filter((change) => 'put' in change && change.put === 'entry').length;
  });
}
