import type pg from 'pg';

/** A short write that needs no lock: it touches no feed. */
export async function inFirm<Result>(
  pool: pg.Pool,
  firm: string,
  work: (client: pg.PoolClient) => Promise<Result>,
): Promise<Result> {
  const client = await pool.connect();
  try {
    await client.query('begin');
    await client.query(`select set_config('wellround.firm', $1, true)`, [firm]);
    const result = await work(client);
    await client.query('commit');
    return result;
  } catch (error) {
    await client.query('rollback').catch(() => undefined);
    throw error;
  } finally {
    client.release();
  }
}
