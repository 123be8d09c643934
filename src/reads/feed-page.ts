import type pg from 'pg';
import { Problem } from '../protocol/problem.ts';
import { clientStanding } from '../store/read/client-standing.ts';
import { type FeedTail, feedRows, feedTail, liveRows } from '../store/read/feed-rows.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { type Cursor, readCursor, writeCursor } from './cursor.ts';
import { mustFollow } from './followed-feeds.ts';
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

/** The place that a cursor names, without believing it yet; the tail tells whether it fits. */
function placeIn(text: string): number {
  const [body] = text.split('.');
  try {
    const { s } = JSON.parse(Buffer.from(body ?? '', 'base64url').toString('utf8')) as { s?: unknown };
    return Number.isSafeInteger(s) ? Number(s) : 0;
  } catch {
    return 0;
  }
}

/**
 * A page of a feed as JSON text; the stored texts of the records go into it as they are.
 *
 * @throws Problem `reset_required` where the cursor does not fit the data, `not_found` for a feed not followed
 */
export function feedPage(pool: pg.Pool, reader: Reader, request: PageRequest): Promise<string> {
  return inRead(pool, reader.firm, async (tx) => {
    const { feed, limit } = request;
    const at = request.cursor === null ? 0 : placeIn(request.cursor);
    // asked at once: where the cursor does not fit, or the feed is not followed, the rows are thrown away
    const [tail, rows] = await Promise.all([
      feedTail(tx, feed, at),
      (at === 0 ? liveRows : feedRows)(tx, feed, at, limit),
      mustFollow(tx, reader, feed),
    ]);
    const cursor = request.cursor === null ? null : readCursor(tail.cursorKey, request.cursor);
    if (request.cursor !== null) {
      const reason = misfit(cursor, request, reader, tail);
      if (reason) throw await reset(tx, request, reason);
    }
    const full = rows.count === limit && rows.last !== null && rows.history !== null;
    const [seq, hash] = full ? [rows.last, rows.history] : [tail.tail, tail.historyHash];
    const history = witness(hash);
    const next = writeCursor(tail.cursorKey, { epoch: tail.epoch, feed, seq, reader: reader.token, history });
    const head = `{"feed":${JSON.stringify(feed)},"cursor":${JSON.stringify(next)},"more":${seq < tail.tail},"tail":${tail.tail}`;
    const sums = `"count":${tail.count},"contentHash":"${tail.contentHash.toString('hex')}"`;
    return `${head},${sums},"rows":[${rows.text ?? ''}]}`;
  });
}
