import type { FeedRows, FeedTail } from '../store/read/feed-rows.ts';

/** Characters of all pages together, and of one. */
const MOST_KEPT = 16_777_216;
const LARGEST_PAGE = 262_144;

interface Kept {
  readonly history: Buffer;
  readonly rows: FeedRows;
}

/**
 * What one reader was given of the end of a feed, for others who come from the same place: after a doorbell, many ask
 * for the same few rows. Bodies only: tail, sums and cursor are made anew for each, and rights are asked of the database
 * each time. A page is found only under the very history of the feed that it was read at. Every change of a feed, a
 * record that leaves it too, is a row of that history, so what is found is what the database would give.
 */
export class PageCache {
  readonly #pages = new Map<string, Kept>();
  #characters = 0;

  /** Whether it is worth asking for the tail first. */
  has(firm: string, feed: string, from: number): boolean {
    return this.#pages.has(`${firm} ${feed} ${from}`);
  }

  /** @returns null where the feed has another history by now, or the page would not fit */
  find(firm: string, feed: string, from: number, tail: FeedTail, limit: number): FeedRows | null {
    const kept = this.#pages.get(`${firm} ${feed} ${from}`);
    return kept?.history.equals(tail.historyHash) && kept.rows.count < limit ? kept.rows : null;
  }

  /** @param rows everything from there to the tail */
  keep(firm: string, feed: string, from: number, tail: FeedTail, rows: FeedRows): void {
    const key = `${firm} ${feed} ${from}`;
    this.#drop(key);
    const size = rows.text?.length ?? 0;
    if (size > LARGEST_PAGE) return;
    this.#pages.set(key, { history: tail.historyHash, rows });
    this.#characters += size + key.length;
    for (const oldest of this.#pages.keys()) {
      if (this.#characters <= MOST_KEPT) return;
      this.#drop(oldest);
    }
  }

  #drop(key: string): void {
    const kept = this.#pages.get(key);
    if (!kept) return;
    this.#pages.delete(key);
    this.#characters -= (kept.rows.text?.length ?? 0) + key.length;
  }
}
