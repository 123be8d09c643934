import type { Outcome } from '../protocol/mutation.ts';
import type { RecordState } from '../protocol/record.ts';

/** Who this installation is, and what it must remember between two starts. */
export interface Identity {
  /** Made at the first start, and anew when the server shows that another device writes under it. */
  readonly client: string;
  /** The number of the next mutation: 1, 2, 3 ... under this client id. */
  readonly nextMutation: number;
  /** Of the newest capture; goes on when the client id changes, since the device is the same. */
  readonly sequence: number;
  /** The member at the device now. */
  readonly person: string | null;
  /** Epoch of the server at the last pull; another one means that its database was set back or made anew. */
  readonly epoch: string | null;
  /** Mutations up to this one survive the loss of the server's database. */
  readonly durable: number;
  /** The client id given up before this one, since another memory of this device had used its numbers. */
  readonly formerly?: string | null;
  /** Server time of the list of feeds that was known when the first of the unsent mutations was captured, or since. */
  readonly seen?: string | null;
}

/** One mutation as it is pushed. The text is kept, and not only its meaning, so that a retry is byte-equal. */
export interface OutboxEntry {
  readonly client: string;
  readonly mutationId: number;
  /** Order of capture on this device; unlike mutationId it outlives a change of the client id. */
  readonly sequence: number;
  /** The wall clock of the device at the capture, with offset. */
  readonly captured: string;
  readonly kind: string;
  readonly id: string;
  readonly line: string;
  /** Of the shapes in which it was captured; 1 where it is missing, since then it was captured before others came. */
  readonly schemaVersion?: number;
  /**
   * What the screen showed of the fields that an amendment or re-homing sets; null for other verbs. It stands in for
   * the base where that names a revision or a client id that means nothing any more.
   */
  readonly was: Readonly<Record<string, unknown>> | null;
  /** What the server said of it; null until it was heard. */
  readonly outcome: Outcome | null;
  /** A person has seen that it was set aside or refused. */
  readonly dismissed: boolean;
}

/** A mutation that another phone captured, carried for it in case that phone never reaches the server. */
export interface CarriedEntry {
  readonly client: string;
  readonly mutationId: number;
  readonly captured: string;
  /** As it was captured, to the byte: by that the server knows it again. */
  readonly line: string;
  /** Of the shapes in which the other phone captured it; 1 where it is missing. */
  readonly schemaVersion?: number;
  /** What the screen of that phone showed, as in its outbox; missing where the copy does not say. */
  readonly was?: OutboxEntry['was'];
  /**
   * With which cursors of the feeds of its record the other phone had seen the revision that it names; missing where it
   * names none, or where the copy does not say.
   */
  readonly seen?: readonly string[];
  /** What the server said of it, to whichever phone; null until it was heard here. */
  readonly outcome: Outcome | null;
}

/** How far a feed was pulled. Count and hash are those of the rows held, kept up with every page. */
export interface FeedState {
  readonly feed: string;
  readonly cursor: string;
  /** Everything up to this seq is held. */
  readonly seq: number;
  readonly count: number;
  readonly contentHash: string;
  /** The tail was reached since the feed was begun. */
  readonly complete: boolean;
  /** Where the tail was when it was reached last: up to there each change is held with all that was derived from it. */
  readonly tail?: number;
}

export interface StoredRecord {
  readonly feed: string;
  readonly seq: number;
  /** Row hash of the record when it was written. */
  readonly hash: string;
  readonly record: RecordState;
}

export type Put =
  | { readonly put: 'identity'; readonly identity: Identity }
  | { readonly put: 'entry'; readonly entry: OutboxEntry }
  | { readonly put: 'carried'; readonly carried: CarriedEntry }
  | { readonly put: 'feed'; readonly state: FeedState }
  | { readonly put: 'record'; readonly stored: StoredRecord };

export type Drop =
  | { readonly drop: 'entry'; readonly client: string; readonly mutationId: number }
  | { readonly drop: 'carried'; readonly client: string; readonly mutationId: number }
  | { readonly drop: 'record'; readonly feed: string; readonly id: string }
  /** The state of a feed and every record of it. */
  | { readonly drop: 'feed'; readonly feed: string };

export type Change = Put | Drop;

/**
 * What a phone keeps. Everything that belongs together is handed to ONE `commit`, which a durable store carries out in
 * one transaction, in the order given: rows and the cursor after them, a mutation and the number that it used up. A
 * commit that throws has either happened whole or not at all, and what was stored before stays. A durable store refuses a
 * second opener, or refuses the first one's commits from then on: two that took numbers of one client would lose some.
 */
export interface ClientStore {
  identity(): Promise<Identity | null>;
  /** In no particular order. */
  outbox(): Promise<readonly OutboxEntry[]>;
  /** Of other phones, in no particular order. */
  carried(): Promise<readonly CarriedEntry[]>;
  feeds(): Promise<readonly FeedState[]>;
  recordsOfFeed(feed: string): Promise<readonly StoredRecord[]>;
  /** Of every feed; a record that moves may for a while be held in two. */
  recordsOfKind(kind: string): Promise<readonly StoredRecord[]>;
  /** The copies of a record, one for each feed that holds it. */
  copies(id: string): Promise<readonly StoredRecord[]>;
  /** Those of the ids that the feed holds. */
  held(feed: string, ids: readonly string[]): Promise<readonly StoredRecord[]>;
  commit(changes: readonly Change[]): Promise<void>;
}

/** A store that outlives its process. */
export interface DurableStore extends ClientStore {
  close(): Promise<void>;
}
