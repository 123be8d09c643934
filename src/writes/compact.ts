import type pg from 'pg';
import { faultOf } from '../store/fault.ts';
import { feedsWithGone } from '../store/read/gone-feeds.ts';
import { inRead } from '../store/read/transaction.ts';
import { type CompactStep, compactHeads } from '../store/write/compact-heads.ts';
import { inWrite } from '../store/write/transaction.ts';

/** So many rows share a transaction: whoever records meanwhile waits for one step at most. */
const ROWS_A_STEP = 500;
/** A busy server may keep a step waiting too long; nothing is lost by another try. */
const TRIES = 4;

export interface Retention {
  /** What left a feed before this instant is told to nobody any more. */
  readonly before: Date;
  readonly now: () => Date;
}

export interface Compacted {
  readonly rows: number;
  readonly feeds: number;
}

async function step(pool: pg.Pool, firm: string, asked: CompactStep): Promise<number> {
  for (let tries = 1; ; tries++) {
    try {
      return await inWrite(pool, firm, (tx) => compactHeads(tx, asked));
    } catch (error) {
      if (faultOf(error) !== 'transient' || tries >= TRIES) throw error;
    }
  }
}

async function compactFeed(pool: pg.Pool, firm: string, feed: string, { before, now }: Retention): Promise<number> {
  let dropped = 0;
  for (;;) {
    const limits = { before: before.toISOString(), limit: ROWS_A_STEP, now: now().toISOString() };
    const rows = await step(pool, firm, { feed, ...limits });
    dropped += rows;
    if (rows < ROWS_A_STEP) return dropped;
  }
}

/**
 * Drops the rows of a firm's feeds that say that a record left them, where that is long ago: in small transactions under
 * the lock of the firm. A device that was not in touch since then begins those feeds anew; everybody else notices
 * nothing. No decision rests on these rows: what a record was, its revisions too, is in the ledger.
 */
export async function compact(pool: pg.Pool, firm: string, retention: Retention): Promise<Compacted> {
  let [rows, feeds] = [0, 0];
  for (const feed of await inRead(pool, firm, feedsWithGone)) {
    const dropped = await compactFeed(pool, firm, feed, retention);
    rows += dropped;
    feeds += dropped > 0 ? 1 : 0;
  }
  return { rows, feeds };
}
