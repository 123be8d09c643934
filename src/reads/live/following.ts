import type { Reader } from '../reader.ts';
import type { FeedTails } from './look.ts';

/** Why a stream of news ends. */
export type EndReason = 'revoked' | 'rights' | 'replaced' | 'closing';

/** Who follows feeds: a stream to a phone or a screen. */
export interface Follower {
  readonly reader: Reader;
  /** The feeds that it asked for; null for all that it may follow, also those of tomorrow. */
  readonly named: ReadonlySet<string> | null;
  /** Feeds have gone on, or stand elsewhere than was said last. */
  tell(tails: FeedTails): void;
  end(reason: EndReason): void;
}

/** A follower and what it was told. */
export class Following {
  readonly follower: Follower;
  /** Nothing is told to somebody whose rights nobody could look at for so long. */
  readonly #believedMs: number;
  /** Where each feed that it follows ended when it was told last. */
  readonly #told = new Map<string, number>();
  /** What was heard before it was known what it may follow. */
  #early: Map<string, number> | null = new Map();
  #checkedMs = 0;

  constructor(follower: Follower, believedMs: number) {
    this.follower = follower;
    this.#believedMs = believedMs;
  }

  /** Begins with where the feeds are that it may follow; what was heard in the meantime may be later. */
  open(tails: FeedTails, nowMs: number): void {
    const early = this.#early ?? new Map<string, number>();
    this.#early = null;
    this.#checkedMs = nowMs;
    const first = new Map([...tails].map(([feed, tail]) => [feed, Math.max(tail, early.get(feed) ?? 0)]));
    this.#tell(first);
  }

  /** Somebody said that feeds have gone on: those are told that are followed and go beyond what was told. */
  hear(tails: FeedTails, nowMs: number): void {
    if (this.#early) this.#keep(tails);
    // what is not told to somebody whose rights are not known is found, and told, by the next look
    else if (nowMs - this.#checkedMs <= this.#believedMs) this.#tellNews(tails);
  }

  /** The database itself was asked: it is right, also where a feed ends earlier than was told. */
  see(tails: FeedTails | null, nowMs: number): void {
    if (this.#early) {
      if (tails !== null) this.#keep(tails);
      return;
    }
    const lost = this.#lost(tails);
    if (lost !== null || tails === null) {
      this.follower.end(lost ?? 'revoked');
      return;
    }
    this.#checkedMs = nowMs;
    const news = this.#changed(tails);
    if (news.size > 0) this.#tell(news);
  }

  #changed(tails: FeedTails): FeedTails {
    const { named } = this.follower;
    const changed = new Map<string, number>();
    // a thousand of them are seen every two seconds: nothing is copied that stands as it was told
    for (const [feed, tail] of tails) {
      if (this.#told.get(feed) !== tail && (named === null || named.has(feed))) changed.set(feed, tail);
    }
    return changed;
  }

  #lost(tails: FeedTails | null): EndReason | null {
    if (tails === null) return 'revoked';
    for (const feed of this.#told.keys()) if (!tails.has(feed)) return 'rights';
    return null;
  }

  #isNews(feed: string, tail: number): boolean {
    return tail > (this.#told.get(feed) ?? Number.POSITIVE_INFINITY);
  }

  #tellNews(tails: FeedTails): void {
    const news = [...tails].filter(([feed, tail]) => this.#isNews(feed, tail));
    // the same object for all who are told the same, so that its text is made once
    if (news.length === tails.size) this.#tell(tails);
    else if (news.length > 0) this.#tell(new Map(news));
  }

  #keep(tails: FeedTails): void {
    for (const [feed, tail] of tails) this.#early?.set(feed, Math.max(tail, this.#early.get(feed) ?? 0));
  }

  #tell(tails: FeedTails): void {
    for (const [feed, tail] of tails) this.#told.set(feed, tail);
    this.follower.tell(tails);
  }
}
