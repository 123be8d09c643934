import { type ClientContext, identityOf } from './context.ts';
import { reissueChanges } from './reissue.ts';
import type { Change, OutboxEntry } from './store.ts';

/** Why a client id is given up: its numbers were used twice, or it is of another device than the token that pushes. */
export type NewIdentity = 'used-twice' | 'other-device';

/**
 * Another device writes under our client id (this one runs on a restored backup of it, or is its copy): take a new id
 * and say again, under it, everything that was not answered. What both remember was pushed under the old id before, and
 * answered from its receipts, so that only what the server does not have is said under the new one.
 */
export function takeNewIdentity(context: ClientContext, why: NewIdentity = 'used-twice'): Promise<void> {
  return context.exclusive(async () => {
    const { store } = context;
    const identity = await identityOf(store);
    const outbox = await store.outbox();
    const which = (entry: OutboxEntry) => entry.outcome === null;
    const changes = reissueChanges({ identity, client: context.newId(), outbox, which, revisionsLost: false });
    const remembering = (change: Change): Change => {
      if (!('put' in change) || change.put !== 'identity') return change;
      return { put: 'identity', identity: { ...change.identity, formerly: identity.client } };
    };
    await store.commit(why === 'used-twice' ? changes.map(remembering) : changes);
  });
}
