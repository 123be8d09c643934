import type pg from 'pg';
import { Problem } from '../protocol/problem.ts';
import { clientStanding } from '../store/read/client-standing.ts';
import { type FeedRows, type FeedTail, feedRows, feedTail, liveRows } from '../store/read/feed-rows.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { type Cursor, claimOf, readCursor, writeCursor } from './cursor.ts';
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
export type ResetReason = 'unknown_cursor' | 'other_reader' | 'other_feed' | 'other_epoch' | 'future' | 'other_history';

/** The 8 bytes of the history hash that a cursor carries. */
function witness(hash: Buffer): string {
  return hash.subarray(0, 8).toString('hex');
}

function misfit(cursor: Cursor | null, request: PageRequest, reader: Reader, tail: FeedTail): ResetReason | null {
  if (!cursor) return 'unknown_cursor';
  if (cursor.reader !== reader.token) return 'other_reader';
  if (cursor.feed !== request.feed) return 'other_feed';
  if (cursor.epoch !== tail.epoch) return 'other_epoch';
  if (cursor.seq > tail.tail) return 'future';
  if (cursor.seq > 0 && (!tail.historyAt || witness(tail.historyAt) !== cursor.history)) return 'other_history';
  return null;
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

/** Asked at once: where the cursor does not fit, or the feed is not followed, the rows are thrown away. */
async function readPage(
  tx: ReadTx,
  reader: Reader,
  { feed, limit }: PageRequest,
  at: number,
  pages?: PageCache,
): Promise<Read> {
  const ask = () => (at === 0 ? liveRows : feedRows)(tx, feed, at, limit);
  const early = pages?.has(tx.firm, feed, at) ? null : ask();
  const [tail, asked] = await Promise.all([feedTail(tx, feed, at), early, mustFollow(tx, reader, feed)]);
  return { tail, rows: asked ?? pages?.find(tx.firm, feed, at, tail, limit) ?? (await ask()) };
}

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
    const at = request.cursor === null ? 0 : claimOf(request.cursor).seq;
    const { tail, rows } = await readPage(tx, reader, request, at, pages);
    const cursor = request.cursor === null ? null : readCursor(tail.cursorKey, request.cursor);
    if (request.cursor !== null) {
      const reason = misfit(cursor, request, reader, tail);
      if (reason) throw await reset(tx, request, reason);
    }
    const full = rows.count === limit && rows.last !== null && rows.history !== null;
    if (!full && at > 0) pages?.keep(tx.firm, feed, at, tail, rows);
    const [seq, hash] = full ? [rows.last, rows.history] : [tail.tail, tail.historyHash];
    const place = { epoch: tail.epoch, feed, seq, reader: reader.token, history: witness(hash) };
    const more = seq < tail.tail;
    const next = writeCursor(tail.cursorKey, { ...place, more });
    const head = `{"feed":${JSON.stringify(feed)},"cursor":${JSON.stringify(next)},"more":${more},"tail":${tail.tail}`;
    const sums = `"count":${tail.count},"contentHash":"${tail.contentHash.toString('hex')}"`;
    return `${head},${sums},"rows":[${rows.text ?? ''}]}`;
  });
}
