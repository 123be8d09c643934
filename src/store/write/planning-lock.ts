import type pg from 'pg';

/**
 * Plans one event at a time, whichever process plans it. The lock is of the session and not of a transaction, which would
 * be ended while it waits for the batches of the plan; a process that dies lets go of it.
 *
 * @returns null where another one plans the event now
 */
export async function whilePlanning<Result>(
  pool: pg.Pool,
  event: string,
  work: () => Promise<Result>,
): Promise<Result | null> {
  const client = await pool.connect();
  let broken: unknown;
  try {
    const text = 'select pg_try_advisory_lock(hashtextextended($1, 0)) as taken';
    const { rows } = await client.query<{ taken: boolean }>(text, [`sampling plan ${event}`]);
    if (rows[0]?.taken !== true) return null;
    try {
      return await work();
    } finally {
      // a session that cannot let go of it is closed, which lets go as well
      const unlock = 'select pg_advisory_unlock(hashtextextended($1, 0))';
      await client.query(unlock, [`sampling plan ${event}`]).catch((fault: unknown) => (broken = fault));
    }
  } finally {
    client.release(broken instanceof Error ? broken : undefined);
  }
}
