import type { EndReason, Follower } from '../../reads/live/following.ts';
import type { FeedTails } from '../../reads/live/look.ts';
import type { Reader } from '../../reads/reader.ts';
import type { EventStream } from './event-stream.ts';

/** A stream that has its place; it speaks once its reader was answered. */
export class LiveStream implements Follower {
  readonly reader: Reader;
  readonly named: ReadonlySet<string> | null;
  /** The installation that asked; null where it did not say. */
  readonly client: string | null;
  /** Where its reader is told; null until the rights are known. */
  events: EventStream | null = null;
  readonly #leave: (stream: LiveStream) => void;
  #closed = false;

  constructor(
    reader: Reader,
    named: ReadonlySet<string> | null,
    client: string | null,
    leave: (one: LiveStream) => void,
  ) {
    this.reader = reader;
    this.named = named;
    this.client = client;
    this.#leave = leave;
  }

  get closed(): boolean {
    return this.#closed;
  }

  tell(tails: FeedTails): void {
    this.events?.tell(tails);
  }

  end(reason: EndReason): void {
    this.events?.end(reason);
    this.close();
  }

  /** Gives up its place. */
  close(): void {
    if (this.#closed) return;
    this.#closed = true;
    this.#leave(this);
  }
}
