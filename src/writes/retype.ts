import type pg from 'pg';
import { KINDS } from '../protocol/kinds-by-name.ts';
import { faultOf } from '../store/fault.ts';
import { feedNames, type HeadEntry, headsOf } from '../store/read/ledger-rows.ts';
import { inRead } from '../store/read/transaction.ts';
import { heldById } from '../store/write/load-held.ts';
import { retypeRows } from '../store/write/persist-typed.ts';
import { inWrite, type WriteTx } from '../store/write/transaction.ts';

/** So many records share a transaction: whoever records meanwhile waits for one step at most. */
const RECORDS_A_STEP = 200;
/** A busy server may keep a step waiting too long; nothing is lost by another try. */
const TRIES = 4;

/** A record whose typed row the database does not take: a field was kept that is not of the form which it has by now. */
export interface Unfit {
  readonly kind: string;
  readonly id: string;
  readonly why: string;
}

export interface Retyped {
  readonly written: number;
  readonly unfit: readonly Unfit[];
}

/** Under the lock of the firm, so that no later state is overwritten. */
async function retypeRecords(tx: WriteTx, ids: readonly string[]): Promise<number> {
  const states = (await heldById(tx, ids)).map(({ state }) => state);
  let written = 0;
  for (const { name } of KINDS) {
    const rows = states.filter(({ kind }) => kind === name).map((state) => ({ state, withdrawn: false }));
    if (rows.length > 0) written += await retypeRows(tx, name, rows);
  }
  return written;
}

async function step(pool: pg.Pool, firm: string, heads: readonly HeadEntry[]): Promise<Retyped> {
  const ids = heads.map(({ id }) => id);
  for (let tries = 1; ; tries++) {
    try {
      return { written: await inWrite(pool, firm, (tx) => retypeRecords(tx, ids)), unfit: [] };
    } catch (error) {
      if (faultOf(error) === 'refused') return oneByOne(pool, firm, heads, error);
      if (faultOf(error) !== 'transient' || tries >= TRIES) throw error;
    }
  }
}

/** The database refuses one of them: the others get their rows. */
async function oneByOne(pool: pg.Pool, firm: string, heads: readonly HeadEntry[], error: unknown): Promise<Retyped> {
  const [only, ...others] = heads;
  if (only && others.length === 0) {
    const why = error instanceof Error ? error.message : String(error);
    return { written: 0, unfit: [{ kind: only.kind, id: only.id, why }] };
  }
  const parts: Retyped[] = [];
  for (const head of heads) parts.push(await step(pool, firm, [head]));
  return together(parts);
}

function together(parts: readonly Retyped[]): Retyped {
  const written = parts.reduce((sum, part) => sum + part.written, 0);
  return { written, unfit: parts.flatMap(({ unfit }) => unfit) };
}

/**
 * Brings the typed tables to what the records say, which are the truth. Made for a server that was brought up to date:
 * fields that newer phones had written before it knew them are in the records and get their columns. Done again, it
 * changes nothing.
 */
export async function retype(pool: pg.Pool, firm: string): Promise<Retyped> {
  const parts: Retyped[] = [];
  for (const feed of await inRead(pool, firm, feedNames)) {
    const here = (await inRead(pool, firm, (tx) => headsOf(tx, feed))).filter(({ gone }) => !gone);
    for (let at = 0; at < here.length; at += RECORDS_A_STEP) {
      parts.push(await step(pool, firm, here.slice(at, at + RECORDS_A_STEP)));
    }
  }
  return together(parts);
}
