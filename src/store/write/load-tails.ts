import { EMPTY_TAIL, type Tail } from './tail.ts';
import type { WriteTx } from './transaction.ts';

interface Row extends Tail {
  readonly feed: string;
}

/** The tails of feeds; those that the memory of this transaction has are not asked for again. */
export async function tailsOf(tx: WriteTx, feeds: readonly string[]): Promise<ReadonlyMap<string, Tail>> {
  const { memory } = tx;
  const unknown = new Set([...feeds, ...memory.feedsWithoutTail()].filter((feed) => !memory.tails.has(feed)));
  if (unknown.size > 0) {
    const loaded = await loadTails(tx, [...unknown]);
    for (const feed of unknown) memory.tails.set(feed, loaded.get(feed) ?? EMPTY_TAIL);
  }
  return memory.tails;
}

/** Asks, under the lock, whether what is remembered still holds: whether any of its feeds has gone on, or was set back. */
export async function confirmMemory(tx: WriteTx): Promise<void> {
  const { memory } = tx;
  // what was loaded by a transaction that came to nothing has no tail to be compared with
  if (memory.feedsWithoutTail().length > 0) memory.forget();
  const feeds = [...memory.tails.keys()];
  if (feeds.length === 0) return;
  const loaded = await loadTails(tx, feeds);
  if (!feeds.every((feed) => isSame(memory.tails.get(feed), loaded.get(feed) ?? EMPTY_TAIL))) memory.forget();
}

function isSame(one: Tail | undefined, other: Tail): boolean {
  return one !== undefined && one.seq === other.seq && one.historyHash.equals(other.historyHash);
}

export async function loadTails(tx: WriteTx, feeds: readonly string[]): Promise<Map<string, Tail>> {
  const { rows } = await tx.client.query<Row>({
    name: 'tails',
    text: `select wanted.feed, t.* from unnest($2::text[]) as wanted(feed)
cross join lateral (
  select seq, live_count as "liveCount", content_hash as "contentHash", history_hash as "historyHash"
  from ledger where firm = $1 and feed = wanted.feed order by seq desc limit 1
) t`,
    values: [tx.firm, feeds],
  });
  return new Map(rows.map((row) => [row.feed, row]));
}
