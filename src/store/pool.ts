import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { withOptions } from './connection-options.ts';
import type { StoreLog } from './log.ts';
import { storeTypes } from './type-parsers.ts';

/** Connections a process opens at most; the embedded server allows 40 in all. */
export const POOL_SIZE = 16;
/** How long a request waits for a free connection before it is told that the database is busy. */
const CONNECT_PATIENCE_MS = 10_000;
/** How long closing waits for work that is under way; a statement may take longer than this, a request may not. */
const CLOSE_PATIENCE_MS = 10_000;

/**
 * Longer than the database works on a statement, and shorter than it takes the system to notice that a connection has
 * fallen silent: a quarter of an hour, for which all writes of a firm would wait behind the one that it met.
 */
const ANSWER_PATIENCE_MS = 20_000;

/**
 * The limits travel with the connection, so no request runs before they hold: a statement may take 15 s, and a
 * transaction that its client forgot is ended after 10 s, because it would hold back everybody behind its locks.
 */
const LIMITS = '-c statement_timeout=15s -c idle_in_transaction_session_timeout=10s';

/**
 * Our longest statements go from key to key, and expect far more rows than come. A server that compiles what looks
 * expensive, as most packages of PostgreSQL are set to, compiled the one for the records around a unit each time it ran:
 * 0.4 to 4 s for 2 ms of work, while the firm was locked.
 */
const AS_PLANNED = '-c jit=off';

export function makePool(config: pg.PoolConfig, log: StoreLog, max = POOL_SIZE): pg.Pool {
  const pool = new pg.Pool({
    max,
    connectionTimeoutMillis: CONNECT_PATIENCE_MS,
    application_name: 'wellround',
    query_timeout: ANSWER_PATIENCE_MS,
    // a host that vanished without a word is noticed by the system, also where nobody asks
    keepAlive: true,
    keepAliveInitialDelayMillis: 10_000,
    ...withOptions(config, `${LIMITS} ${AS_PLANNED}`),
    types: storeTypes,
    // statements go out as they are made instead of each waiting for the answer to the one before it
    pipeline: true,
  });
  pool.on('error', (error) => {
    // a pool that is closing has let go of its connections already
    if (!pool.ending) log.warn({ error: error.message }, 'an idle database connection was lost');
  });
  // the pool listens to idle connections only: one that breaks between two statements of a transaction would
  // otherwise end the whole process; its next statement fails, and that is where the loss belongs
  pool.on('connect', (client) => client.on('error', () => undefined));
  return pool;
}

/** Ends the pool when its work is done, or soon: a connection that nobody gave back must not keep a server from stopping. */
export async function endPool(pool: pg.Pool, log: StoreLog, patienceMs = CLOSE_PATIENCE_MS): Promise<void> {
  const waiting = new AbortController();
  const ended = pool.end().then(() => waiting.abort());
  await Promise.race([ended, sleep(patienceMs, undefined, { signal: waiting.signal }).catch(() => undefined)]);
  if (waiting.signal.aborted) return;
  log.warn(
    { connections: pool.totalCount, patienceMs },
    'database connections were still in use when the pool was closed',
  );
}
