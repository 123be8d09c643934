import { type ClientContext, identityOf } from './context.ts';
import { takeNewIdentity } from './new-identity.ts';
import { type Replay, replayAfter } from './replay.ts';
import type { FeedList } from './transport.ts';

export interface ServerNews extends Replay {
  /** Feeds that were cleared, all of them, since the server was set back or made anew. */
  readonly cleared: readonly string[];
}

const NO_NEWS: ServerNews = { replayed: 0, newIdentities: 0, cleared: [] };

function noteDurable(context: ClientContext, list: FeedList): Promise<void> {
  return context.exclusive(async () => {
    const identity = await identityOf(context.store);
    const durable = Math.min(Math.max(identity.durable, list.durable), identity.nextMutation - 1);
    if (durable === identity.durable && identity.epoch === list.epoch) return;
    await context.store.commit([{ put: 'identity', identity: { ...identity, durable, epoch: list.epoch } }]);
  });
}

/** The last number under this client id that the server has answered. */
export async function highestAnswered({ store }: ClientContext, client: string): Promise<number> {
  const answered = (await store.outbox()).filter((entry) => entry.client === client && entry.outcome !== null);
  return answered.reduce((highest, entry) => Math.max(highest, entry.mutationId), 0);
}

async function hasUnanswered({ store }: ClientContext, client: string): Promise<boolean> {
  return (await store.outbox()).some((entry) => entry.client === client && entry.outcome === null);
}

/** What the list of feeds says of the server and of us: was it set back, and are we the only one under our id? */
export async function heedList(context: ClientContext, list: FeedList): Promise<ServerNews> {
  const { client, epoch, nextMutation } = await identityOf(context.store);
  const { lastMutation } = list;
  if (lastMutation >= nextMutation) {
    // What was never answered here may be what the server has: the push asks under this id, and then gives it up.
    if (await hasUnanswered(context, client)) return NO_NEWS;
    await takeNewIdentity(context);
    return { ...NO_NEWS, newIdentities: 1 };
  }
  if ((epoch !== null && epoch !== list.epoch) || lastMutation < (await highestAnswered(context, client))) {
    const clear = (await context.store.feeds()).map((state) => state.feed);
    const replay = await replayAfter(context, { lastMutation, epoch: list.epoch, clear });
    return { ...replay, cleared: clear };
  }
  await noteDurable(context, list);
  return NO_NEWS;
}
