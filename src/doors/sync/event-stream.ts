import type { ServerResponse } from 'node:http';
import type { EndReason } from '../../reads/live/following.ts';
import type { FeedTails } from '../../reads/live/look.ts';

/** After so long without a word, one is said that means nothing, so that both ends know that the line holds. */
export const HEARTBEAT_MS = 15_000;
/** Who takes nothing for so long is dropped; it comes back, and asks where the feeds are. */
export const BLOCKED_MS = 10_000;

const HEARTBEAT = Buffer.from(':\n\n');

/** Whoever is told the same object is told the same bytes. */
const texts = new WeakMap<FeedTails, Buffer>();

function textOf(tails: FeedTails): Buffer {
  const known = texts.get(tails);
  if (known) return known;
  const events = [...tails].map(([feed, tail]) => `event: tail\ndata: ${JSON.stringify({ feed, tail })}\n\n`);
  const text = Buffer.from(events.join(''));
  texts.set(tails, text);
  return text;
}

/**
 * Server-sent events to one reader. What it does not take in time waits in one place a feed: a later tail replaces an
 * earlier one, so a slow reader costs no more than its feeds, however much happens.
 */
export class EventStream {
  readonly #response: ServerResponse;
  #waiting: Map<string, number> | null = null;
  #blockedMs = 0;
  #spokenMs: number;

  constructor(response: ServerResponse, nowMs: number) {
    this.#response = response;
    this.#spokenMs = nowMs;
    response.on('drain', () => this.#flush());
  }

  begin(headers: Record<string, string>, retryMs: number): void {
    this.#response.writeHead(200, {
      ...headers,
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      // a proxy that gathers answers would keep the news to itself
      'x-accel-buffering': 'no',
    });
    this.#response.write(`retry: ${Math.round(retryMs)}\n\n`);
  }

  tell(tails: FeedTails): void {
    if (this.#waiting) for (const [feed, tail] of tails) this.#waiting.set(feed, tail);
    else this.#write(textOf(tails));
  }

  /** Looks at the time. @returns false once the reader took nothing for too long */
  tick(nowMs: number, heartbeatMs: number, blockedMs: number): boolean {
    if (this.#waiting) return nowMs - this.#blockedMs < blockedMs;
    if (nowMs - this.#spokenMs >= heartbeatMs) this.#write(HEARTBEAT);
    return true;
  }

  /** Says why, where the reader still listens, and ends. */
  end(reason: EndReason): void {
    if (this.#response.writableEnded) return;
    // a reader that takes nothing would not take the end either
    if (this.#waiting) this.#response.destroy();
    else this.#response.end(`event: end\ndata: ${JSON.stringify({ reason })}\n\n`);
  }

  #flush(): void {
    const waiting = this.#waiting;
    this.#waiting = null;
    if (waiting && waiting.size > 0) this.#write(textOf(waiting));
  }

  #write(bytes: Buffer): void {
    if (this.#response.writableEnded || this.#response.destroyed) return;
    const nowMs = performance.now();
    this.#spokenMs = nowMs;
    if (this.#response.write(bytes)) return;
    this.#waiting = new Map();
    this.#blockedMs = nowMs;
  }
}
