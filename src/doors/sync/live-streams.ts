import { LIMITS } from '../../protocol/limits.ts';
import { Problem } from '../../protocol/problem.ts';
import type { LiveHub, Place } from '../../reads/live/hub.ts';
import type { FeedTails } from '../../reads/live/look.ts';
import type { Reader } from '../../reads/reader.ts';
import { BLOCKED_MS, type EventStream, HEARTBEAT_MS } from './event-stream.ts';
import { LiveStream } from './live-stream.ts';

export interface StreamSettings {
  readonly streams: number;
  readonly streamsPerToken: number;
  readonly heartbeatMs: number;
  readonly blockedMs: number;
  /** How often rights and tails are looked at. */
  readonly lookEveryMs: number;
  /** How long a look is believed. */
  readonly believedMs: number;
}

export const STREAM_SETTINGS: StreamSettings = {
  streams: LIMITS.streams,
  streamsPerToken: LIMITS.streamsPerToken,
  heartbeatMs: HEARTBEAT_MS,
  blockedMs: BLOCKED_MS,
  lookEveryMs: 2_000,
  believedMs: 5_000,
};

/** The live streams of a process: how many there are, and that none is forgotten. */
export class LiveStreams {
  readonly #hub: LiveHub;
  readonly #settings: StreamSettings;
  readonly #places = new Map<LiveStream, Place>();
  #timer: NodeJS.Timeout | null = null;
  #closed = false;

  constructor(hub: LiveHub, settings: StreamSettings) {
    this.#hub = hub;
    this.#settings = settings;
  }

  get size(): number {
    return this.#places.size;
  }

  /**
   * Takes in a stream; from here on it misses nothing. A client has one: where it lost the line and comes again, the
   * older one is ended, which may be dead without anybody knowing.
   *
   * @throws Problem `too_many` or `busy` where there is no place
   */
  admit(reader: Reader, named: ReadonlySet<string> | null, client: string | null): LiveStream {
    if (this.#closed) throw new Problem('busy', 'the server is stopping');
    const ofToken = [...this.#places.keys()].filter((one) => one.reader.token === reader.token);
    for (const one of ofToken) if (client !== null && one.client === client) one.end('replaced');
    this.#mustHaveRoom(ofToken.filter((one) => !one.closed).length);
    const stream = new LiveStream(reader, named, client, (one) => {
      this.#places.get(one)?.leave();
      this.#places.delete(one);
    });
    this.#places.set(stream, this.#hub.follow(stream));
    this.#timer ??= setInterval(() => this.#tick(), Math.min(1_000, this.#settings.heartbeatMs)).unref();
    return stream;
  }

  /** The reader was answered, and is told where its feeds are. */
  open(stream: LiveStream, events: EventStream, tails: FeedTails): void {
    stream.events = events;
    this.#places.get(stream)?.open(tails);
  }

  async close(): Promise<void> {
    this.#closed = true;
    if (this.#timer) clearInterval(this.#timer);
    for (const stream of [...this.#places.keys()]) stream.end('closing');
    await this.#hub.close();
  }

  #mustHaveRoom(ofToken: number): void {
    const { streams, streamsPerToken } = this.#settings;
    if (ofToken >= streamsPerToken) {
      const detail = `this token has ${ofToken} live streams open; the limit is streamsPerToken ${streamsPerToken}`;
      throw new Problem('too_many', detail, { limit: 'streamsPerToken' });
    }
    if (this.#places.size < streams) return;
    const detail = `this server has ${this.#places.size} live streams open; the limit is streams ${streams}`;
    throw new Problem('busy', detail, { limit: 'streams' });
  }

  #tick(): void {
    const nowMs = performance.now();
    const { heartbeatMs, blockedMs } = this.#settings;
    for (const stream of [...this.#places.keys()]) {
      if (stream.events?.tick(nowMs, heartbeatMs, blockedMs) === false) stream.end('closing');
    }
  }
}
