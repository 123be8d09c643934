import type pg from 'pg';

/** A statement as it went to the database, with what it was answered. */
export interface Recorded {
  readonly name: string | null;
  readonly text: string;
  readonly values: readonly unknown[];
  rows: number;
}

interface QueryLike {
  readonly name?: string;
  readonly text: string;
  readonly values?: readonly unknown[];
}

function statement(first: unknown, second: unknown): Omit<Recorded, 'rows'> {
  const given: QueryLike = typeof first === 'string' ? { text: first } : (first as QueryLike);
  const values = given.values ?? (Array.isArray(second) ? (second as unknown[]) : []);
  return { name: given.name ?? null, text: given.text, values };
}

/** The same pool, with a list of everything that is asked through it. */
export function recorder(pool: pg.Pool): { readonly pool: pg.Pool; readonly recorded: readonly Recorded[] } {
  const recorded: Recorded[] = [];
  const watch = <Target extends pg.Pool | pg.PoolClient>(
    target: Target,
    special: Readonly<Record<string, unknown>>,
  ): Target =>
    new Proxy(target, {
      get: (of, name) => {
        if (typeof name === 'string' && name in special) return special[name];
        const value: unknown = Reflect.get(of, name, of);
        return typeof value === 'function' ? value.bind(of) : value;
      },
    });
  const ask =
    (of: pg.Pool | pg.PoolClient) =>
    async (...given: readonly unknown[]) => {
      const entry: Recorded = { ...statement(given[0], given[1]), rows: 0 };
      recorded.push(entry);
      const result = (await Reflect.apply(of.query, of, given)) as pg.QueryResult;
      entry.rows = result.rowCount ?? 0;
      return result;
    };
  const connect = async () => {
    const client = await pool.connect();
    return watch(client, { query: ask(client) });
  };
  return { pool: watch(pool, { connect, query: ask(pool) }), recorded };
}
