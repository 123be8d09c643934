import { type ClientContext, identityOf } from './context.ts';
import { reissueChanges } from './reissue.ts';
import type { OutboxEntry } from './store.ts';

/**
 * Another device writes under our client id (this one runs on a restored backup of it, or is its copy): take a new id
 * and say again, under it, everything that was not answered. What the other device has said twice is the same change
 * with the same values, which the server merges.
 */
export function takeNewIdentity(context: ClientContext): Promise<void> {
  return context.exclusive(async () => {
    const { store } = context;
    const identity = await identityOf(store);
    const outbox = await store.outbox();
    const which = (entry: OutboxEntry) => entry.outcome === null;
    await store.commit(reissueChanges({ identity, client: context.newId(), outbox, which, revisionsLost: false }));
  });
}
