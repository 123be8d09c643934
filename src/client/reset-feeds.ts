import type { ClientContext } from './context.ts';
import type { Change } from './store.ts';

/** Drops every feed in one commit. The outbox, the numbers and what is carried for others stay. */
export function resetFeeds(context: ClientContext): Promise<void> {
  return context.exclusive(async () => {
    const feeds = await context.store.feeds();
    await context.store.commit(feeds.map(({ feed }): Change => ({ drop: 'feed', feed })));
  });
}
