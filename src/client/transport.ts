import type { Outcome } from '../protocol/mutation.ts';
import type { RecordState } from '../protocol/record.ts';

export interface FeedList {
  readonly epoch: string;
  readonly serverTime: string;
  /** Of the shapes that the server reads and writes. */
  readonly schemaVersion: number;
  readonly lastMutation: number;
  readonly durable: number;
  readonly feeds: readonly ListedFeed[];
}

export interface ListedFeed {
  readonly feed: string;
  readonly tail: number;
  readonly count: number;
  readonly contentHash: string;
}

export type FeedRow =
  | { readonly seq: number; readonly record: RecordState }
  | { readonly seq: number; readonly gone: { readonly kind: string; readonly id: string } };

export interface FeedPage extends ListedFeed {
  readonly rows: readonly FeedRow[];
  readonly cursor: string;
  readonly more: boolean;
}

export interface PushAnswer {
  readonly lastMutation: number;
  readonly durable: number;
  readonly serverTime: string;
  readonly outcomes: readonly Outcome[];
}

export interface VerifyAnswer {
  readonly tail: number;
  readonly buckets: readonly { readonly prefix: string; readonly count: number; readonly hash: string }[];
  readonly rows?: readonly FeedRow[];
}

/** The code of a problem where nothing readable came back: what became of the request is unknown, so ask again. */
export const NO_ANSWER = 'no_answer';

export interface Problem {
  /** Null where nothing readable came back. */
  readonly status: number | null;
  readonly code: string;
  readonly detail: string;
  readonly retryAfterMs: number | null;
  /** With mutation_gap: the number that the server expects next. */
  readonly expected: number | null;
  /**
   * With mutation_reused: the first number that was taken before with other bytes; with client_of_other: the first that
   * the server does not have. Null where the server does not name it.
   */
  readonly mutation: number | null;
  /** With reset_required: why. */
  readonly reason: string | null;
  /** With reset_required: the last mutation of this client that the server knows. */
  readonly lastMutation: number | null;
}

export type Answer<Value> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly problem: Problem };

export interface PageRequest {
  readonly feed: string;
  /** Null begins the feed. */
  readonly cursor: string | null;
  readonly limit: number;
  /** Who asks: a refused cursor is answered with the last mutation of this client. */
  readonly client: string;
}

/** What a phone says of itself as it asks for its feeds. */
export interface FeedsAsked {
  /** The server time of the list that it knew when it captured what it has not sent. */
  readonly seen: string | null;
  /** The client id that it gave up, since another memory of it had used its numbers. */
  readonly formerly: string | null;
}

/** The four questions of a phone to its server. An implementation never throws: no answer is a Problem too. */
export interface Transport {
  feeds(client: string, asked?: FeedsAsked): Promise<Answer<FeedList>>;
  page(request: PageRequest): Promise<Answer<FeedPage>>;
  /** `carried`: the lines are a copy of another phone's outbox. */
  push(body: string, carried?: boolean): Promise<Answer<PushAnswer>>;
  verify(feed: string, prefix: string): Promise<Answer<VerifyAnswer>>;
}

export function isReset(problem: Problem): boolean {
  return problem.status === 410 && problem.code === 'reset_required';
}
