import type pg from 'pg';

/** A statement as a read sends it. */
export type Statement = string | pg.QueryConfig;

/** The same pool, whose connections note every statement that is sent through them. */
export function noting(pool: pg.Pool, statements: Statement[]): pg.Pool {
  const noted = (client: pg.PoolClient): pg.PoolClient =>
    new Proxy(client, {
      get: (target, name) => {
        if (name === 'query') {
          return (statement: Statement, ...rest: unknown[]) => {
            statements.push(statement);
            return Reflect.apply(target.query, target, [statement, ...rest]);
          };
        }
        const value: unknown = Reflect.get(target, name, target);
        return typeof value === 'function' ? value.bind(target) : value;
      },
    });
  return new Proxy(pool, {
    get: (target, name) => {
      if (name === 'connect') return async () => noted(await target.connect());
      const value: unknown = Reflect.get(target, name, target);
      return typeof value === 'function' ? value.bind(target) : value;
    },
  });
}

/** Sends the statements of one read again, each after the answer to the one before it, and does nothing with the rows. */
export async function replay(pool: pg.Pool, statements: readonly Statement[]): Promise<void> {
  const client = await pool.connect();
  try {
    for (const statement of statements) await client.query(statement as pg.QueryConfig);
  } finally {
    client.release();
  }
}
