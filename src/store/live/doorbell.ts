import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';
import type { StoreLog } from '../log.ts';
import { doorbellTexts, LIVE_CHANNEL, type Tails } from './doorbell-text.ts';

/** At most so often: a notification holds a lock of the whole server while it commits. */
const RING_EVERY_MS = 20;
const FIRST_PAUSE_MS = 200;
const LONGEST_PAUSE_MS = 5_000;
const CLOSE_PATIENCE_MS = 1_000;

export interface DoorbellOptions {
  readonly pool: pg.Pool;
  readonly log: StoreLog;
  readonly everyMs?: number;
}

/** A later tail of a feed says all that an earlier one did. */
function joined(before: Tails | undefined, more: Tails): Tails {
  if (before === undefined) return more;
  if (before === null || more === null) return null;
  const tails = new Map(before);
  for (const [feed, tail] of more) tails.set(feed, Math.max(tail, tails.get(feed) ?? 0));
  return tails;
}

/**
 * Tells every process of the installation which feeds have gone on: after their commit, outside its transaction, one
 * notification for all that came together. The first is rung at once, the next ones in steps. What could not be said is
 * said again; what a process that died did not say is found by those who look for themselves now and then.
 */
export class Doorbell {
  readonly #pool: pg.Pool;
  readonly #log: StoreLog;
  readonly #everyMs: number;
  #dirty = new Map<string, Tails>();
  #timer: NodeJS.Timeout | null = null;
  #ringing: Promise<void> | null = null;
  #failures = 0;
  #lastMs = Number.NEGATIVE_INFINITY;
  #closed = false;

  constructor({ pool, log, everyMs = RING_EVERY_MS }: DoorbellOptions) {
    this.#pool = pool;
    this.#log = log;
    this.#everyMs = everyMs;
  }

  /** @param tails where the feeds of a firm end after a commit; null where it is not known what was committed */
  readonly ring = (firm: string, tails: Tails): void => {
    if (tails?.size === 0 || this.#closed) return;
    this.#dirty.set(firm, joined(this.#dirty.get(firm), tails));
    this.#plan(Math.max(0, this.#lastMs + this.#everyMs - performance.now()));
  };

  /** Says what is left to say, if the database listens, and is silent from then on. */
  async close(): Promise<void> {
    this.#closed = true;
    if (this.#timer) clearTimeout(this.#timer);
    const patience = new AbortController();
    const rest = (this.#ringing ?? Promise.resolve()).then(() => this.#send()).then(() => patience.abort());
    await Promise.race([rest, sleep(CLOSE_PATIENCE_MS, undefined, { signal: patience.signal }).catch(() => undefined)]);
  }

  #plan(inMs: number): void {
    if (this.#timer || this.#ringing || this.#closed) return;
    this.#timer = setTimeout(() => {
      this.#timer = null;
      this.#ringing = this.#send().finally(() => {
        this.#ringing = null;
        if (this.#dirty.size > 0) this.#plan(this.#pauseMs());
      });
    }, inMs).unref();
  }

  #pauseMs(): number {
    if (this.#failures === 0) return this.#everyMs;
    return Math.min(FIRST_PAUSE_MS * 2 ** (this.#failures - 1), LONGEST_PAUSE_MS);
  }

  async #send(): Promise<void> {
    const said = this.#dirty;
    const texts = doorbellTexts(said);
    this.#dirty = new Map();
    this.#lastMs = performance.now();
    if (texts.length === 0) return;
    try {
      const text = 'select pg_notify($1, said) from unnest($2::text[]) said';
      await this.#pool.query({ name: 'ring', text, values: [LIVE_CHANNEL, texts] });
      this.#failures = 0;
    } catch (error) {
      for (const [firm, tails] of said) this.#dirty.set(firm, joined(this.#dirty.get(firm), tails));
      this.#failures += 1;
      const details = { error: error instanceof Error ? error.message : String(error), failures: this.#failures };
      if (this.#failures === 1) this.#log.warn(details, 'live news could not be passed on; they will be said again');
    }
  }
}
