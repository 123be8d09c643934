import type { Role } from '../protocol/kind.ts';

/** Who speaks: a token of a firm, as authenticated at the door. */
export interface Actor {
  readonly firm: string;
  readonly token: string;
  readonly role: Role;
  readonly device: string | null;
  /** The laboratory that a token of that role speaks for. */
  readonly laboratory?: string | null;
  /** The member at the device now. */
  readonly person: string | null;
  /** A revoked device may still hand in what it has; it is set aside. */
  readonly revoked: boolean;
}

/** One mutation as it came: its bytes are what a repeated push is compared by, and what is kept if it is set aside. */
export interface Line {
  readonly bytes: Buffer;
  /** Null where the bytes are not UTF-8. */
  readonly text: string | null;
  /** Of the shapes that it was written in, as the header of its push says; that of the server where it is missing. */
  readonly version?: number;
}

/** The clocks of a device as it sent a push. */
export interface Sent {
  readonly wall: string;
  readonly monotonicMs: number;
  readonly boot: string;
}

/** Where a phone was in the history of a feed whose revisions its lines name. */
export interface SeenPlace {
  readonly feed: string;
  readonly seq: number;
  readonly epoch: string;
  /** The first 8 bytes of the history hash there, in hexadecimal digits. */
  readonly history: string;
}

/** Mutations of one client, numbered without a gap from `first` on. */
export interface Batch {
  readonly actor: Actor;
  readonly client: string;
  readonly first: number;
  readonly lines: readonly Line[];
  readonly schemaVersion: number;
  readonly sent: Sent | null;
  readonly roundTripMs: number;
  readonly unsent: { readonly count: number; readonly oldest: string | null } | null;
  /** In which histories the revisions were seen that its lines name; null where the phone gives what is no cursor. */
  readonly seen?: readonly (SeenPlace | null)[];
  /** A request of its own rather than a phone: its client is made for it and is not listed among the phones. */
  readonly oneShot: boolean;
  /** A partner's phone hands in a copy of this client's outbox. */
  readonly carried: boolean;
  /**
   * When it came, by which the clock of its device is measured: it may wait for others of its process, for the lock and for
   * further tries. The lane notes it; where it is missing, it came as it is applied.
   */
  readonly arrivedMs?: number;
}

/** Why what a phone has seen is not the history that is here. */
export interface Misfit {
  readonly feed: string | null;
  readonly reason: 'unknown_cursor' | 'other_epoch' | 'future' | 'other_history';
}

/** What a batch is answered. Outcomes are JSON texts, so that a repeated push gets the same bytes. */
export type Answer =
  | {
      readonly status: 'answered';
      readonly lastMutation: number;
      /** Up to which of its mutations the client may forget what it keeps. */
      readonly durable: number;
      readonly outcomes: readonly string[];
      /** How many of the mutations were known already, for a request that is only repeated. */
      readonly repeated: number;
    }
  | { readonly status: 'reused'; readonly mutation: number }
  | { readonly status: 'gap'; readonly expected: number }
  /** The revisions that it names were seen in another history; with what is known of its client in this one. */
  | ({ readonly status: 'other_history'; readonly lastMutation: number } & Misfit)
  /** With the first line that the server does not have. */
  | { readonly status: 'client_of_other'; readonly mutation: number };
