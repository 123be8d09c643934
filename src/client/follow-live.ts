import type { FetchRequest, FetchResponse } from './fetch-like.ts';
import { noAnswer, problemOf } from './problem.ts';
import type { ClientStore } from './store.ts';
import type { Problem } from './transport.ts';

/** An answer whose text goes on: `response.body.pipeThrough(new TextDecoderStream())` of a platform. */
export interface LiveResponse extends FetchResponse {
  /** The text as it comes; ends, or throws, where the line is lost. */
  chunks(): AsyncIterable<string>;
  /** Gives up the line. */
  cancel(): void;
}

/** As `fetch`, without a time limit: whether the line holds is watched here. */
export type OpenLive = (url: string, request: FetchRequest) => Promise<LiveResponse>;

/** Where each feed ends that was told of. */
export type ToldTails = ReadonlyMap<string, number>;

export interface FollowOptions {
  /** Where the API is, without `/v1`. */
  readonly base: string;
  readonly token: string;
  /** The client id of this installation, as it is now. */
  readonly client: () => Promise<string>;
  readonly open: OpenLive;
  /**
   * Gets what is new, as `syncOnce` does; never called twice at once. Answered false where not all of it came: then it
   * is called again, a while later, without anything else having to happen.
   */
  readonly news: (tails: ToldTails) => Promise<boolean>;
  readonly wait: (ms: number) => Promise<void>;
  /** A chance between 0 and 1. */
  readonly random: () => number;
  /** After so long without a sign the line is taken for dead; the server gives one every 15 s. */
  readonly silenceMs?: number;
}

export interface LiveFollowing {
  /** Whether news come by themselves at the moment. */
  readonly live: boolean;
  stop(): void;
  /** Ends when stopped, or where following makes no sense any more: then it says why. News come by asking, as before. */
  readonly done: Promise<Problem | null>;
}

const SILENCE_MS = 40_000;
const FIRST_PAUSE_MS = 1_000;
const LONGEST_PAUSE_MS = 30_000;
/** No event is as long. */
const MOST_UNREAD = 65_536;

/** Coming back would not help: not known here any more, not allowed, or a server without streams. */
const FOR_GOOD: readonly number[] = [400, 401, 403, 404, 405, 406];

/** Does a store stand where the server said that the feeds end? Also a tail that went back is news. */
export async function standsAt(store: ClientStore, tails: ToldTails): Promise<boolean> {
  const states = new Map((await store.feeds()).map((state) => [state.feed, state]));
  return [...tails].every(([feed, tail]) => states.get(feed)?.complete === true && states.get(feed)?.seq === tail);
}

interface Message {
  readonly event: string;
  readonly data: string;
  readonly retry: string;
}

function messageOf(block: string): Message {
  const message = { event: '', data: '', retry: '' };
  for (const line of block.split('\n')) {
    const [, name, value = ''] = /^(event|data|retry): ?(.*)$/.exec(line) ?? [];
    if (name === 'event' || name === 'data' || name === 'retry') message[name] = value;
  }
  return message;
}

function membersOf(data: string): Readonly<Record<string, unknown>> {
  try {
    const value: unknown = JSON.parse(data);
    return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
  } catch {
    return {};
  }
}

/** Hands on what was told, one call at a time; what is told during a call is handed on after it. */
class Handing {
  readonly #options: FollowOptions;
  readonly #stopped: () => boolean;
  #waiting = new Map<string, number>();
  #due = false;
  #running = false;
  #failures = 0;

  constructor(options: FollowOptions, stopped: () => boolean) {
    this.#options = options;
    this.#stopped = stopped;
  }

  /** @param feed null where feeds were lost: asking for the list tells which */
  tell(feed: string | null, tail: number): void {
    if (feed !== null) this.#waiting.set(feed, tail);
    this.#due = true;
    if (!this.#running) void this.#run();
  }

  async #run(): Promise<void> {
    this.#running = true;
    // what was told in one piece of text is handed on together
    await Promise.resolve();
    while (this.#due && !this.#stopped()) {
      this.#due = false;
      const tails = this.#waiting;
      this.#waiting = new Map();
      if (await this.#options.news(tails).catch(() => false)) this.#failures = 0;
      else {
        for (const [feed, tail] of tails) if (!this.#waiting.has(feed)) this.#waiting.set(feed, tail);
        this.#due = true;
        await this.#options.wait(pauseMs(++this.#failures, this.#options.random));
      }
    }
    this.#running = false;
  }
}

/** Longer each time, and at another moment on each phone. */
function pauseMs(failures: number, random: () => number): number {
  const most = Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** Math.min(failures, 10));
  return Math.round(FIRST_PAUSE_MS / 2 + random() * (most - FIRST_PAUSE_MS / 2));
}

/** One connection after the other, until it is stopped or told for good. */
class Follower implements LiveFollowing {
  readonly done: Promise<Problem | null>;
  readonly #options: FollowOptions;
  readonly #handing: Handing;
  #line: LiveResponse | null = null;
  #live = false;
  #stopped = false;
  #retryMs = 0;
  #failures = 0;
  /** Pieces of text so far: a line is dead where it does not grow. */
  #signs = 0;

  constructor(options: FollowOptions) {
    this.#options = options;
    this.#handing = new Handing(options, () => this.#stopped);
    this.done = this.#run();
  }

  get live(): boolean {
    return this.#live;
  }

  stop(): void {
    this.#stopped = true;
    this.#line?.cancel();
  }

  async #run(): Promise<Problem | null> {
    while (!this.#stopped) {
      const problem = await this.#follow();
      this.#live = false;
      this.#line = null;
      if (this.#stopped) return null;
      if (problem !== null && (problem.code === 'replaced' || FOR_GOOD.includes(problem.status ?? 0))) return problem;
      this.#failures += 1;
      const least = Math.max(this.#retryMs, problem?.retryAfterMs ?? 0);
      await this.#options.wait(least + pauseMs(this.#failures, this.#options.random));
    }
    return null;
  }

  /** @returns why it ended; null for a line that was lost or ended in order */
  async #follow(): Promise<Problem | null> {
    const { base, token, open, client } = this.#options;
    const headers = { authorization: `Bearer ${token}`, accept: 'text/event-stream' };
    try {
      const url = `${base.replace(/\/+$/, '')}/v1/sync/stream?client=${encodeURIComponent(await client())}`;
      const line = await open(url, { method: 'GET', headers });
      if (line.status !== 200) return problemOf(line, await line.text()).problem;
      if (!line.headers.get('content-type')?.startsWith('text/event-stream')) {
        line.cancel();
        return noAnswer('the answer is no stream: a page of the network between, perhaps').problem;
      }
      return await this.#read(line);
    } catch (error) {
      return noAnswer(error instanceof Error ? error.message : String(error)).problem;
    }
  }

  async #read(line: LiveResponse): Promise<Problem | null> {
    this.#line = line;
    if (this.#stopped) line.cancel();
    const watch = { over: false };
    void this.#watch(line, watch);
    let rest = '';
    try {
      for await (const chunk of line.chunks()) {
        this.#signs += 1;
        const blocks = (rest + chunk).split('\n\n');
        rest = blocks.pop() ?? '';
        for (const block of blocks) if (this.#take(messageOf(block)) === 'replaced') return replaced();
        if (rest.length > MOST_UNREAD) break;
      }
      return null;
    } finally {
      watch.over = true;
      line.cancel();
    }
  }

  async #watch(line: LiveResponse, watch: { readonly over: boolean }): Promise<void> {
    for (;;) {
      const before = this.#signs;
      await this.#options.wait(this.#options.silenceMs ?? SILENCE_MS);
      if (watch.over) return;
      if (this.#signs === before) {
        line.cancel();
        return;
      }
    }
  }

  #take({ event, data, retry }: Message): string | null {
    if (/^\d{1,6}$/.test(retry)) this.#retryMs = Number(retry);
    const { feed, tail, reason } = membersOf(data);
    if (event === 'tail' && typeof feed === 'string' && typeof tail === 'number') {
      this.#live = true;
      this.#failures = 0;
      this.#handing.tell(feed, tail);
    }
    if (event !== 'end') return null;
    if (reason === 'rights') this.#handing.tell(null, 0);
    return typeof reason === 'string' ? reason : null;
  }
}

/** Another stream of this very client has begun elsewhere: two that follow for one would end each other for ever. */
function replaced(): Problem {
  return { ...noAnswer('another stream of this client took its place').problem, code: 'replaced' };
}

/**
 * Follows the feeds of this installation as long as the server can be reached: what is new is fetched as it happens, and
 * after every loss of the line from where it was left. It replaces no sync: work in the outbox is pushed by the app.
 */
export function followLive(options: FollowOptions): LiveFollowing {
  return new Follower(options);
}
