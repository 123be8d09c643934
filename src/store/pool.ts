import pg from 'pg';
import { withOptions } from './connection-options.ts';
import type { StoreLog } from './log.ts';
import { storeTypes } from './type-parsers.ts';

/** Connections a process opens at most; the embedded server allows 40 in all. */
export const POOL_SIZE = 16;
/** How long a request waits for a free connection before it is told that the database is busy. */
const CONNECT_PATIENCE_MS = 10_000;

/**
 * The limits travel with the connection, so no request runs before they hold: a statement may take 15 s, and a
 * transaction that its client forgot is ended after 10 s, because it would hold back everybody behind its locks.
 */
const LIMITS = '-c statement_timeout=15s -c idle_in_transaction_session_timeout=10s';

export function makePool(config: pg.PoolConfig, log: StoreLog, max = POOL_SIZE): pg.Pool {
  const pool = new pg.Pool({
    max,
    connectionTimeoutMillis: CONNECT_PATIENCE_MS,
    application_name: 'wellround',
    ...withOptions(config, LIMITS),
    types: storeTypes,
  });
  // an idle connection breaks when the server restarts; the pool drops it and opens another when asked
  pool.on('error', (error) => log.warn({ error: error.message }, 'an idle database connection was lost'));
  return pool;
}
