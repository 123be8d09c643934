import { isDeepStrictEqual } from 'node:util';
import type pg from 'pg';
import { kindNamed } from '../protocol/kinds-by-name.ts';
import { faultOf } from '../store/fault.ts';
import { feedNames, headsOf } from '../store/read/ledger-rows.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { heldById } from '../store/write/load-held.ts';
import { rewriteMemories } from '../store/write/persist-heads.ts';
import { inWrite, type WriteTx } from '../store/write/transaction.ts';
import { replayedMemories } from './ledger-feed.ts';

/** So many records are replayed at a time: whoever records meanwhile waits for one step at most. */
const RECORDS_A_STEP = 200;
/** A busy server may keep a step waiting too long; nothing is lost by another try. */
const TRIES = 4;

interface Known {
  readonly id: string;
  readonly memory: unknown;
}

/** Those of which a replay of their changes gives something else than is remembered. */
async function differing(tx: ReadTx, known: readonly Known[]): Promise<string[]> {
  const replayed = await replayedMemories(
    tx,
    known.map(({ id }) => id),
  );
  return known.filter(({ id, memory }) => !isDeepStrictEqual(replayed.get(id) ?? null, memory)).map(({ id }) => id);
}

/** Under the lock of the firm, so that no later change is forgotten. */
async function remember(tx: WriteTx, ids: readonly string[]): Promise<number> {
  const held = (await heldById(tx, ids)).map(({ feed, state, memory }) => ({ feed, id: state.id, memory }));
  const wrong = new Set(await differing(tx, held));
  const replayed = await replayedMemories(tx, [...wrong]);
  const rows = held
    .filter(({ id }) => wrong.has(id))
    .map(({ feed, id }) => ({ feed, id, merge: JSON.stringify(replayed.get(id) ?? null) }));
  await rewriteMemories(tx, rows);
  return rows.length;
}

async function step(pool: pg.Pool, firm: string, ids: readonly string[]): Promise<number> {
  for (let tries = 1; ; tries++) {
    try {
      return await inWrite(pool, firm, (tx) => remember(tx, ids));
    } catch (error) {
      if (faultOf(error) !== 'transient' || tries >= TRIES) throw error;
    }
  }
}

/** Records that were changed, with what is remembered of them. */
async function changedIn(pool: pg.Pool, firm: string, feed: string): Promise<Known[]> {
  const heads = await inRead(pool, firm, (tx) => headsOf(tx, feed));
  const changed = heads.filter(({ gone, rev, kind }) => !gone && rev > 1 && kindNamed(kind)?.family !== 'derived');
  return changed.map(({ id, merge }) => ({ id, memory: merge }));
}

/**
 * Brings what is remembered for merging to what the changes of each record give, by the rules of today. Made for a
 * database that an older version wrote, whose memories lack what is remembered since; what is decided from them would
 * otherwise differ from a replay for ever. Records that other processes know by heart keep the old memory there until
 * somebody changes something in their feed; done again, it changes nothing.
 *
 * @returns of how many records
 */
export async function rememberAgain(pool: pg.Pool, firm: string): Promise<number> {
  let written = 0;
  for (const feed of await inRead(pool, firm, feedNames)) {
    const changed = await changedIn(pool, firm, feed);
    for (let at = 0; at < changed.length; at += RECORDS_A_STEP) {
      const wrong = await inRead(pool, firm, (tx) => differing(tx, changed.slice(at, at + RECORDS_A_STEP)));
      if (wrong.length > 0) written += await step(pool, firm, wrong);
    }
  }
  return written;
}
