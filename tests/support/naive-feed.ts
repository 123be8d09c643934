import type pg from 'pg';
import type { Between } from './faulty-pool.ts';
import type { Delivered, Source } from './feed-follower.ts';

/**
 * What one would write first, and must not: a number from a sequence on every row, written in the same transactions,
 * and a reader that asks for what is above the highest number it has seen. A number is given out before its row can be
 * seen, so a slow transaction leaves a hole that the reader has long passed. Kept to show that the checker finds it.
 */
export async function naiveTable(owner: pg.Client): Promise<void> {
  await owner.query('create table naive (n bigserial primary key, record uuid not null)');
  await owner.query('grant select, insert on naive to wellround_app');
  await owner.query('grant usage on sequence naive_n_seq to wellround_app');
}

/** Writes to it whatever a transaction wrote to the ledger, as a first draft of the write door would have done. */
export function alsoNaive(next: Between): Between {
  return async (statement, client) => {
    if (statement === 'commit') {
      await client.query(`insert into naive (record)
select record from ledger where pg_current_xact_id_if_assigned() is not null and xmin = pg_current_xact_id()::xid`);
    }
    await next(statement, client);
  };
}

export function naiveSource(pool: pg.Pool, limit: number): Source {
  return async (cursor) => {
    const text = 'select n, record from naive where n > $1 order by n limit $2';
    const { rows } = await pool.query<{ n: number; record: string }>(text, [Number(cursor ?? 0), limit]);
    const delivered = rows.map((row) => ({ id: String(row.n), version: row.n, content: row.record }));
    return { rows: delivered, cursor: String(rows.at(-1)?.n ?? cursor ?? 0), more: rows.length === limit };
  };
}

export async function naiveTruth(pool: pg.Pool): Promise<Delivered[]> {
  const { rows } = await pool.query<{ record: string; n: number }>('select n, record from naive');
  return rows.map((row) => ({ id: String(row.n), version: row.n, content: row.record }));
}
