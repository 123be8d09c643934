import { MOST_SEEN } from '../protocol/sync.ts';
import type { Batch } from './batch.ts';
import { baseIn } from './own-values.ts';
import type { ClientStore, FeedState, OutboxEntry } from './store.ts';

/** The feeds of the record whose revision an unanswered line names as its base. */
async function citedBy(store: ClientStore, entry: OutboxEntry): Promise<string[]> {
  const base = entry.outcome === null ? baseIn(entry) : undefined;
  if (base === undefined || !('rev' in base)) return [];
  return (await store.copies(entry.id)).map(({ feed }) => feed);
}

/** The feeds of all records whose revisions unanswered lines name. */
export async function citedFeeds(store: ClientStore): Promise<FeedState[]> {
  const cited = new Set<string>();
  for (const entry of await store.outbox()) {
    for (const feed of await citedBy(store, entry)) cited.add(feed);
  }
  return (await store.feeds()).filter((state) => cited.has(state.feed));
}

export interface CitingBatch extends Batch {
  /** Cursors of the feeds whose revisions its lines name: those were seen in that history. */
  readonly seen: readonly string[];
}

/** As many of the lines as name revisions of no more feeds than a header has room for, and where those were seen. */
export async function citing(store: ClientStore, batch: Batch): Promise<CitingBatch> {
  const cursors = new Map((await store.feeds()).map(({ feed, cursor }) => [feed, cursor]));
  const seen = new Set<string>();
  for (const [at, entry] of batch.entries.entries()) {
    const cited = (await citedBy(store, entry)).flatMap((feed) => cursors.get(feed) ?? []);
    const more = new Set([...seen, ...cited]);
    if (at > 0 && more.size > MOST_SEEN) return { ...batch, entries: batch.entries.slice(0, at), seen: [...seen] };
    for (const cursor of cited.slice(0, MOST_SEEN)) seen.add(cursor);
  }
  return { ...batch, seen: [...seen] };
}
