import { baseInValues } from './base.ts';
import { type ClientContext, identityOf } from './context.ts';
import { baseIn } from './own-values.ts';
import { reissueChanges, withBase } from './reissue.ts';
import type { Change, Identity, OutboxEntry } from './store.ts';

/** Of the entries that are unanswered by now, is the next one the server expects still here? */
function isGap(outbox: readonly OutboxEntry[], client: string, lastMutation: number): boolean {
  const unanswered = outbox.filter((entry) => entry.client === client && entry.outcome === null);
  const first = Math.min(...unanswered.map((entry) => entry.mutationId));
  return unanswered.length > 0 && first > lastMutation + 1;
}

/**
 * Unanswered again, and where its base names a revision, the values that were on the screen instead: the server
 * counts revisions anew, and the same number may by now stand for a change that nobody here has seen.
 */
function unanswered(entry: OutboxEntry): OutboxEntry {
  const base = baseIn(entry);
  if (base && 'rev' in base) return withBase(entry, entry.mutationId, baseInValues(entry.was));
  return entry.outcome === null ? entry : { ...entry, outcome: null, dismissed: false };
}

function replayChanges(identity: Identity, before: readonly OutboxEntry[], lastMutation: number, newId: () => string) {
  const { client } = identity;
  const isLost = (entry: OutboxEntry) => entry.client === client && entry.mutationId > lastMutation;
  const outbox = before.map((entry) => (isLost(entry) ? unanswered(entry) : entry));
  const former = outbox.some((entry) => entry.client !== client);
  // Numbers that the server wants and we no longer keep, or lines of a client id that we gave up: a new id for all.
  if (former || isGap(outbox, client, lastMutation)) {
    const which = (entry: OutboxEntry) => entry.outcome === null || entry.client !== client;
    return reissueChanges({ identity, client: newId(), outbox, which, revisionsLost: true });
  }
  const changed = outbox.filter((entry, at) => entry !== before[at]);
  const durable = Math.min(identity.durable, lastMutation);
  const entries = changed.map((entry): Change => ({ put: 'entry', entry }));
  return [...entries, { put: 'identity', identity: { ...identity, durable } } satisfies Change];
}

export interface Replay {
  /** Mutations that were answered once and will be said again. */
  readonly replayed: number;
  /** 1 when it took a new client id, since the numbers that the server wants are not kept any more. */
  readonly newIdentities: number;
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
 * that the next push says it again.
 */
export function replayAfter(context: ClientContext, setBack: SetBack): Promise<Replay> {
  return context.exclusive(async () => {
    const { store } = context;
    const identity = await identityOf(store);
    const outbox = await store.outbox();
    const now: Identity = { ...identity, epoch: setBack.epoch ?? identity.epoch };
    const changes = replayChanges(now, outbox, setBack.lastMutation, context.newId);
    const dropped = setBack.clear.map((feed): Change => ({ drop: 'feed', feed }));
    await store.commit([...dropped, ...changes]);
    return replayOf(identity, outbox, changes);
  });
}

function replayOf(before: Identity, outbox: readonly OutboxEntry[], changes: readonly Change[]): Replay {
  const answered = new Set(outbox.filter((entry) => entry.outcome !== null).map((entry) => entry.sequence));
  const puts = changes.filter((change) => 'put' in change);
  return {
    replayed: puts.filter((change) => change.put === 'entry' && answered.has(change.entry.sequence)).length,
    newIdentities: puts.some((change) => change.put === 'identity' && change.identity.client !== before.client) ? 1 : 0,
  };
}
