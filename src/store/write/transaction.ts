import type pg from 'pg';
import { afterOpening } from '../after-opening.ts';
import { isOverrun } from '../fault.ts';
import { RecordMemory } from './record-memory.ts';

/** An open write of one firm: it has the firm's lock, so everything read in it is the truth until it ends. */
export interface WriteTx {
  readonly client: pg.PoolClient;
  readonly firm: string;
  /** What the process remembers of the firm; good for nothing before it is confirmed. */
  readonly memory: RecordMemory;
}

/** Separates our advisory locks from those of others in the same database. */
const FIRM_LOCKS = 0x57e11;

const UUID = /^[0-9a-f-]{36}$/;

/** The statement that takes the lock of a firm, until the transaction ends. */
export function firmLock(firm: string): string {
  if (!UUID.test(firm)) throw new RangeError(`a firm is a UUID, ${JSON.stringify(firm)} was given`);
  return `select pg_advisory_xact_lock(${FIRM_LOCKS}, hashtext('${firm}'));`;
}

function begin(firm: string): string {
  const lock = firmLock(firm);
  // Statements of their own, so that every later snapshot is taken after the lock was granted.
  // Every key leads with the firm, so an index serves every look-up; a plan made while a table was small would scan it.
  // Nor does any plan get better by the values: to plan the statement for the units around a change takes thirty times as
  // long as to run it, and left to itself the server plans that one anew each time.
  return `begin isolation level read committed;
set local enable_seqscan = off;
set local plan_cache_mode = force_generic_plan;
select set_config('wellround.firm', '${firm}', true);
${lock}`;
}

/** PostgreSQL answers COMMIT with ROLLBACK after a failed statement, without an error. */
async function commit(client: pg.PoolClient): Promise<void> {
  const { command } = await client.query('commit');
  if (command !== 'COMMIT') throw new Error(`the transaction was rolled back: COMMIT was answered ${command}`);
}

const notOpened = new WeakSet<object>();

/**
 * Whether a write failed before it had the lock of its firm: none of its own statements was worked on, and how long it
 * waited is due to others.
 */
export function isNotOpened(error: unknown): boolean {
  return typeof error === 'object' && error !== null && notOpened.has(error);
}

/** A write whose own work overran; that others had the lock for so long says nothing about it. */
export function isOwnOverrun(error: unknown): boolean {
  return isOverrun(error) && !isNotOpened(error);
}

function noteNotOpened(error: unknown): never {
  if (typeof error === 'object' && error !== null) notOpened.add(error);
  throw error;
}

/** Runs one write under the lock of its firm; firms do not wait for each other. */
export async function inWrite<Result>(
  pool: pg.Pool,
  firm: string,
  work: (tx: WriteTx) => Promise<Result>,
  memory = new RecordMemory(),
): Promise<Result> {
  const opening = begin(firm);
  const client = await pool.connect().catch(noteNotOpened);
  let broken: unknown;
  try {
    const result = await afterOpening(client.query(opening).catch(noteNotOpened), work({ client, firm, memory }));
    await commit(client);
    return result;
  } catch (error) {
    await client.query('rollback').catch((fault: unknown) => (broken = fault));
    throw error;
  } finally {
    client.release(broken instanceof Error ? broken : undefined);
  }
}
