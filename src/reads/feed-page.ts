import type pg from 'pg';
import { Problem } from '../protocol/problem.ts';
import { clientStanding } from '../store/read/client-standing.ts';
import { type FeedRows, type FeedTail, feedRows, feedTail, liveRows } from '../store/read/feed-rows.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { type Claim, type Cursor, claimOf, placeOf, readCursor, writeCursor } from './cursor.ts';
import { mustFollow } from './followed-feeds.ts';
import type { PageCache } from './page-cache.ts';
import type { Reader } from './reader.ts';

export interface PageRequest {
  readonly feed: string;
  /** Null to begin from nothing. */
  readonly cursor: string | null;
  readonly limit: number;
  readonly client: string | null;
}

/** Why a cursor does not fit the data. */
export type ResetReason =
  | 'unknown_cursor'
  | 'other_reader'
  | 'other_feed'
  | 'other_epoch'
  | 'future'
  | 'other_history'
  | 'below_floor';

/** The 8 bytes of the history hash that a cursor carries. */
function witness(hash: Buffer): string {
  return hash.subarray(0, 8).toString('hex');
}

function misfit(cursor: Cursor | null, request: PageRequest, reader: Reader, tail: FeedTail): ResetReason | null {
  if (!cursor) return 'unknown_cursor';
  if (cursor.feed !== request.feed) return 'other_feed';
  if (cursor.epoch !== tail.epoch) return 'other_epoch';
  const place = placeOf(cursor);
  if (place > tail.tail) return 'future';
  if (place > 0 && (!tail.historyAt || witness(tail.historyAt) !== cursor.history)) return 'other_history';
  // said last: a phone with a new token learns that its history is the one here
  if (cursor.reader !== reader.token) return 'other_reader';
  // who has read nothing misses nothing
  return place > 0 && place < tail.floor ? 'below_floor' : null;
}

async function reset(tx: ReadTx, request: PageRequest, reason: ResetReason): Promise<Problem> {
  const { lastMutation } = await clientStanding(tx, request.client);
  const detail = `the cursor does not fit the feed ${request.feed}: ${reason}`;
  return new Problem('reset_required', detail, { reason, lastMutation, feed: request.feed });
}

interface Read {
  readonly tail: FeedTail;
  readonly rows: FeedRows;
}

/** Whoever began from nothing and is not yet where the feed ended then has pages of its own, which nobody keeps. */
function rowsAt(tx: ReadTx, { feed, limit }: PageRequest, { seq, begun }: Claim): Promise<FeedRows> {
  if (seq === 0) return liveRows(tx, feed, seq, limit);
  return begun > seq ? liveRows(tx, feed, seq, limit, begun) : feedRows(tx, feed, seq, limit);
}

/** Asked at once: where the cursor does not fit, or the feed is not followed, the rows are thrown away. */
async function readPage(
  tx: ReadTx,
  reader: Reader,
  request: PageRequest,
  claim: Claim,
  pages?: PageCache,
): Promise<Read> {
  const { feed, limit } = request;
  const ask = () => rowsAt(tx, request, claim);
  const early = pages?.has(tx.firm, feed, claim.seq) ? null : ask();
  const [tail, asked] = await Promise.all([feedTail(tx, feed, placeOf(claim)), early, mustFollow(tx, reader, feed)]);
  return { tail, rows: asked ?? pages?.find(tx.firm, feed, claim.seq, tail, limit) ?? (await ask()) };
}

/** Where a reader is after a page; one that began from nothing is bound to the history that it began in. */
function placeAfter(
  { tail, rows }: Read,
  full: boolean,
  from: Cursor | null,
): Pick<Cursor, 'seq' | 'history' | 'begun'> {
  const [seq, hash] =
    full && rows.last !== null && rows.history ? [rows.last, rows.history] : [tail.tail, tail.historyHash];
  const before = from === null || from.seq === 0 ? null : from;
  const begun = before === null ? tail.tail : (before.begun ?? 0);
  if (begun <= seq) return { seq, history: witness(hash) };
  return { seq, begun, history: before?.history ?? witness(tail.historyHash) };
}

const BEGINNING: Claim = { seq: 0, begun: 0, more: true };

/** Whoever begins with this cursor, or without one, has a long way to go, and waits for those who have a short one. */
export function isCatchingUp(cursor: string | null): boolean {
  return cursor === null || claimOf(cursor).more;
}

/**
 * A page of a feed as JSON text; the stored texts of the records go into it as they are.
 *
 * @throws Problem `reset_required` where the cursor does not fit the data, `not_found` for a feed not followed
 */
export function feedPage(pool: pg.Pool, reader: Reader, request: PageRequest, pages?: PageCache): Promise<string> {
  return inRead(pool, reader.firm, async (tx) => {
    const { feed, limit } = request;
    const claim = request.cursor === null ? BEGINNING : claimOf(request.cursor);
    const beginning = placeOf(claim) > claim.seq || claim.seq === 0;
    const read = await readPage(tx, reader, request, claim, beginning ? undefined : pages);
    const { tail, rows } = read;
    const cursor = request.cursor === null ? null : readCursor(tail.cursorKey, request.cursor);
    if (request.cursor !== null) {
      const reason = misfit(cursor, request, reader, tail);
      if (reason) throw await reset(tx, request, reason);
    }
    const full = rows.count === limit && rows.last !== null && rows.history !== null;
    if (!full && !beginning) pages?.keep(tx.firm, feed, claim.seq, tail, rows);
    const place = placeAfter(read, full, cursor);
    const more = place.seq < tail.tail;
    const next = writeCursor(tail.cursorKey, { epoch: tail.epoch, feed, reader: reader.token, ...place, more });
    const head = `{"feed":${JSON.stringify(feed)},"cursor":${JSON.stringify(next)},"more":${more},"tail":${tail.tail}`;
    const sums = `"count":${tail.count},"contentHash":"${tail.contentHash.toString('hex')}"`;
    return `${head},${sums},"rows":[${rows.text ?? ''}]}`;
  });
}
