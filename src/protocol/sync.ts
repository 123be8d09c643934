import { z } from 'zod';
import { deviceClock, outcome } from './mutation.ts';
import { id, instant } from './primitives.ts';

const count = z.int().min(0).max(Number.MAX_SAFE_INTEGER);
/** More than any device can hold; the server keeps it in four bytes. */
const MOST_PENDING = 2_147_483_647;
/** Feeds whose cursors the header of one push may carry. */
export const MOST_SEEN = 8;
/** A cursor in that header. */
export const seenCursor = z.string().min(1).max(1_000);
const hash64 = z.string().regex(/^[0-9a-f]{16}$/);

/**
 * A push is newline-delimited JSON: this header on the first line, then one mutation a line, without a gap from
 * `first` on. Every line ends with a line end, so that a cut is noticed. A line that cannot be read takes the next
 * number, is set aside byte for byte, and sinks no other.
 */
export const pushHeader = z.strictObject({
  client: id,
  schemaVersion: z.int().min(1).max(1_000_000),
  first: z.int().min(1).max(Number.MAX_SAFE_INTEGER),
  count: count.describe('How many lines follow, so that a cut body is noticed'),
  sent: deviceClock.omit({ sequence: true }).optional().describe('The clocks of the device as it sends'),
  roundTripMs: count.optional().describe('Of the last answered request'),
  pending: z
    .strictObject({ count: z.int().min(0).max(MOST_PENDING), oldest: instant.nullable() })
    .optional()
    .describe('What stays unsent on the device after this push'),
  seen: z
    .array(seenCursor)
    .max(MOST_SEEN)
    .optional()
    .describe(
      'Cursors of the feeds in which the lines name a revision: where the history is another, nothing is applied',
    ),
});
export type PushHeader = z.output<typeof pushHeader>;

export const pushAnswer = z.strictObject({
  client: id,
  lastMutation: count,
  durable: count.describe('Mutations up to this one survive the loss of the database; keep the later ones'),
  serverTime: instant,
  outcomes: z.array(outcome),
});

/** A row of a feed: the newest state of a record, or the news that a record is no longer there. */
export const feedRow = z.union([
  z.strictObject({ seq: count, record: z.record(z.string(), z.unknown()) }),
  z.strictObject({ seq: count, gone: z.strictObject({ kind: z.string(), id }) }),
]);

export const feedPage = z.strictObject({
  feed: z.string(),
  rows: z.array(feedRow),
  cursor: z.string().describe('Give it back to go on; opaque'),
  more: z.boolean(),
  tail: count.describe('Newest seq of the feed when the page was read'),
  count: count.describe('Live records of the feed at its tail'),
  contentHash: hash64.describe('XOR of the row hashes of the live records at the tail'),
});

export const feedList = z.strictObject({
  epoch: id,
  serverTime: instant,
  schemaVersion: z.int(),
  lastMutation: count.describe('The last mutation that the server knows of the client asking'),
  durable: count,
  feeds: z.array(z.strictObject({ feed: z.string(), tail: count, count, contentHash: hash64 })),
});

export const verifyBuckets = z.strictObject({
  feed: z.string(),
  prefix: z.string().describe('Hexadecimal digits with which the ids of the records begin'),
  tail: count,
  buckets: z.array(z.strictObject({ prefix: z.string(), count, hash: hash64 })),
  rows: z.array(feedRow).optional().describe('The records themselves, once few enough'),
});
