import { MOST_SEEN } from '../protocol/sync.ts';
import type { Batch, PushLine } from './batch.ts';
import { baseIn } from './own-values.ts';
import type { ClientStore, FeedState, OutboxEntry } from './store.ts';

/** The feeds of the record whose revision a line names as its base. */
async function namedBy(store: ClientStore, entry: OutboxEntry): Promise<string[]> {
  const base = baseIn(entry);
  if (base === undefined || !('rev' in base)) return [];
  return (await store.copies(entry.id)).map(({ feed }) => feed);
}

/** What was answered is known to the server, and cites nothing any more. */
async function citedBy(store: ClientStore, entry: OutboxEntry): Promise<string[]> {
  return entry.outcome === null ? namedBy(store, entry) : [];
}

/** The feeds of all records whose revisions unanswered lines name. */
export async function citedFeeds(store: ClientStore): Promise<FeedState[]> {
  const cited = new Set<string>();
  for (const entry of await store.outbox()) {
    for (const feed of await citedBy(store, entry)) cited.add(feed);
  }
  return (await store.feeds()).filter((state) => cited.has(state.feed));
}

async function cursorsOf(store: ClientStore): Promise<ReadonlyMap<string, string>> {
  return new Map((await store.feeds()).map(({ feed, cursor }) => [feed, cursor]));
}

/**
 * For each line the cursors by which a copy of it says in what history its revision was seen: also of what was answered,
 * since whoever hands in the copy may find a server that was set back to before that.
 */
export async function witnesses(
  store: ClientStore,
  entries: readonly OutboxEntry[],
): Promise<ReadonlyMap<OutboxEntry, readonly string[]>> {
  const cursors = await cursorsOf(store);
  const found = new Map<OutboxEntry, readonly string[]>();
  for (const entry of entries) {
    const seen = (await namedBy(store, entry)).flatMap((feed) => cursors.get(feed) ?? []);
    if (seen.length > 0) found.set(entry, seen.slice(0, MOST_SEEN));
  }
  return found;
}

export interface CitingBatch<Line extends PushLine = OutboxEntry> extends Batch<Line> {
  /** Cursors of the feeds whose revisions its lines name: those were seen in that history. */
  readonly seen: readonly string[];
}

/**
 * As many of the lines as name revisions of no more feeds than a header has room for, and where those were seen.
 *
 * @param cited the cursors for a line
 */
export async function cutToSeen<Line extends PushLine>(
  batch: Batch<Line>,
  cited: (entry: Line) => readonly string[] | Promise<readonly string[]>,
): Promise<CitingBatch<Line>> {
  const seen = new Set<string>();
  for (const [at, entry] of batch.entries.entries()) {
    const named = await cited(entry);
    const more = new Set([...seen, ...named]);
    if (at > 0 && more.size > MOST_SEEN) return { ...batch, entries: batch.entries.slice(0, at), seen: [...seen] };
    for (const cursor of named.slice(0, MOST_SEEN)) seen.add(cursor);
  }
  return { ...batch, seen: [...seen] };
}

/** The same of own lines, by the cursors that are kept now. */
export async function citing(store: ClientStore, batch: Batch): Promise<CitingBatch> {
  const cursors = await cursorsOf(store);
  const cited = async (entry: OutboxEntry) => (await citedBy(store, entry)).flatMap((feed) => cursors.get(feed) ?? []);
  return cutToSeen(batch, cited);
}

/**
 * How many lines of a batch to give first, once the server has said that it has another history than one of those in
 * which they saw what they cite: up to where one more history comes in, so that only lines that come after what cannot be
 * taken are said anew. 0 where that is the first line itself.
 *
 * @param known the last number that the server has: what such lines cite matters to nobody
 */
export function linesOfOneHistory<Line extends PushLine>(
  { entries }: Batch<Line>,
  known: number,
  cited: (entry: Line) => readonly string[],
): number {
  const seen = new Set<string>();
  const more: number[] = [];
  for (const [at, entry] of entries.entries()) {
    if (entry.mutationId <= known) continue;
    const before = seen.size;
    for (const cursor of cited(entry)) seen.add(cursor);
    if (seen.size > before) more.push(at);
  }
  const first = more[Math.floor(more.length / 2)] ?? entries.findIndex(({ mutationId }) => mutationId > known);
  return Math.max(0, first);
}
