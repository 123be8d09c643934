import type pg from 'pg';
import { clientLike } from '../client-like.ts';

export interface PlannedThing {
  readonly firm: string;
  readonly event: string;
}

/**
 * Plans one event at a time, whichever process plans it. The lock is of the session and not of a transaction, which would
 * be ended while it waits for the batches of the plan; a process that dies lets go of it. The session is none of the
 * pool: what is planned needs connections of the pool itself, and would wait for those that such locks have.
 *
 * @returns null where another one plans the event now
 */
export async function whilePlanning<Result>(
  pool: pg.Pool,
  { firm, event }: PlannedThing,
  work: () => Promise<Result>,
): Promise<Result | null> {
  const client = clientLike(pool, { application_name: 'wellround-planning' });
  // a lost connection shows in the next statement; without a listener it would end the process
  client.on('error', () => undefined);
  const key = [`sampling plan ${firm} ${event}`];
  try {
    await client.connect();
    const text = 'select pg_try_advisory_lock(hashtextextended($1, 0)) as taken';
    const { rows } = await client.query<{ taken: boolean }>(text, key);
    if (rows[0]?.taken !== true) return null;
    try {
      return await work();
    } finally {
      // a session that cannot let go of it is closed, which lets go as well
      await client.query('select pg_advisory_unlock(hashtextextended($1, 0))', key).catch(() => undefined);
    }
  } finally {
    await client.end().catch(() => undefined);
  }
}
