import type pg from 'pg';
import { readDoorbell } from '../../store/live/doorbell-text.ts';
import { Listener } from '../../store/live/listener.ts';
import type { StoreLog } from '../../store/log.ts';
import { inReadOn } from '../../store/read/transaction.ts';
import { type Follower, Following } from './following.ts';
import { type FeedTails, lookFor } from './look.ts';

export interface HubOptions {
  readonly pool: pg.Pool;
  readonly log: StoreLog;
  readonly now: () => Date;
  /** How often the rights of all who follow, and the tails, are looked at, besides what is heard. */
  readonly lookEveryMs: number;
  /** For so long a look is believed: nothing is told to those whose rights were not seen since. */
  readonly believedMs: number;
}

/** Telling a thousand takes a while; it may take this share of the time of the process, and no more. */
const SHARE_OF_TELLING = 0.2;
/** However slow the process is for other reasons. */
const LONGEST_PACE_MS = 100;

/** What a follower does with its place. */
export interface Place {
  /** Says what it may follow, and where those feeds end; it is told so at once, and from then on of news. */
  open(tails: FeedTails): void;
  leave(): void;
}

/**
 * All who follow feeds in this process, over one listening connection. News come by doorbell, and if one was not rung,
 * not heard or not understood, by a look at the database: at once where the connection was lost in between, and now and
 * then in any case. The same look ends the streams of those who lost a right.
 */
export class LiveHub {
  readonly #options: HubOptions;
  readonly #listener: Listener;
  readonly #byFirm = new Map<string, Set<Following>>();
  #heard = new Map<string, Map<string, number>>();
  #timer: NodeJS.Timeout | null = null;
  #telling = false;
  #nextMs = 0;

  constructor(options: HubOptions) {
    this.#options = options;
    const { pool, log, lookEveryMs } = options;
    const look = (client: pg.ClientBase) => this.#lookAtAll(client);
    this.#listener = new Listener({ pool, log, lookEveryMs, look, heard: (payload) => this.#hear(payload) });
  }

  /** Whether doorbells are heard now. */
  get listening(): boolean {
    return this.#listener.listening;
  }

  /** From here on nothing is missed: so whoever follows looks where the feeds are afterwards. */
  follow(follower: Follower): Place {
    const { firm } = follower.reader;
    const following = new Following(follower, this.#options.believedMs);
    const all = this.#byFirm.get(firm) ?? new Set();
    this.#byFirm.set(firm, all.add(following));
    this.#listener.start();
    return {
      open: (tails) => following.open(tails, performance.now()),
      leave: () => {
        all.delete(following);
        if (all.size === 0 && this.#byFirm.get(firm) === all) this.#byFirm.delete(firm);
      },
    };
  }

  async close(): Promise<void> {
    if (this.#timer) clearTimeout(this.#timer);
    for (const all of this.#byFirm.values()) for (const { follower } of [...all]) follower.end('closing');
    await this.#listener.stop();
  }

  #hear(payload: string): void {
    const sound = readDoorbell(payload);
    if (sound !== null && !this.#byFirm.has(sound.firm)) return;
    if (sound?.tails) this.#gather(sound.firm, sound.tails);
    else this.#listener.lookSoon();
  }

  #gather(firm: string, tails: FeedTails): void {
    const waiting = this.#heard.get(firm) ?? new Map<string, number>();
    this.#heard.set(firm, waiting);
    for (const [feed, tail] of tails) waiting.set(feed, Math.max(tail, waiting.get(feed) ?? 0));
    this.#plan();
  }

  #plan(): void {
    if (this.#telling) return;
    this.#timer ??= setTimeout(() => this.#tellAll(), Math.max(0, this.#nextMs - performance.now())).unref();
  }

  #tellAll(): void {
    this.#timer = null;
    const heard = this.#heard;
    this.#heard = new Map();
    const begunMs = performance.now();
    for (const [firm, tails] of heard) {
      for (const following of [...(this.#byFirm.get(firm) ?? [])]) following.hear(tails, begunMs);
    }
    // what was written here is handed to the system after this turn, which is most of the work
    this.#telling = true;
    setImmediate(() => {
      this.#telling = false;
      this.#nextMs = begunMs + Math.min(LONGEST_PACE_MS, (performance.now() - begunMs) / SHARE_OF_TELLING);
      if (this.#heard.size > 0) this.#plan();
    });
  }

  async #lookAtAll(client: pg.ClientBase): Promise<void> {
    for (const firm of [...this.#byFirm.keys()]) {
      const all = [...(this.#byFirm.get(firm) ?? [])];
      const readers = all.map(({ follower }) => follower.reader);
      const now = this.#options.now().toISOString();
      const look = await inReadOn(client, firm, (tx) => lookFor(tx, readers, now));
      const nowMs = performance.now();
      for (const following of all) following.see(look.of(following.follower.reader), nowMs);
    }
  }
}
