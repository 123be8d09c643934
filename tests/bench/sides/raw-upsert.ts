import pg from 'pg';
import { v7 } from 'uuid';
import type { BenchDatabase } from '../bench-postgres.ts';
import type { Measured, Meter } from '../meter.ts';

const UPSERT = {
  name: 'raw-upsert',
  text: `insert into raw_row (id, body) select r.id, r.body::json from unnest($1::uuid[], $2::text[]) as r(id, body)
on conflict (id) do update set body = excluded.body`,
};
const UPSERT_ONE = {
  name: 'raw-upsert-one',
  text: 'insert into raw_row (id, body) values ($1, $2) on conflict (id) do update set body = excluded.body',
};

/** The least that keeps a record safe: one table, one key, its text; each statement its own transaction. */
export class RawTable {
  readonly #config: pg.ClientConfig;

  constructor(database: BenchDatabase) {
    this.#config = { connectionString: database.ownerUrl };
  }

  async create(): Promise<void> {
    const client = new pg.Client(this.#config);
    await client.connect();
    await client.query('create table raw_row (id uuid primary key, body json not null)').finally(() => client.end());
  }

  /** Writes the bodies under new ids, so many a statement, from so many connections at once. */
  async upsert(meter: Meter, bodies: readonly string[], perStatement: number, connections: number): Promise<Measured> {
    const clients = await Promise.all(Array.from({ length: connections }, () => this.#open()));
    const rows = bodies.map((body) => ({ id: v7(), body }));
    let next = 0;
    const work = async (client: pg.Client): Promise<void> => {
      while (next < rows.length) {
        const from = next;
        next += perStatement;
        await client.query(statementOf(rows.slice(from, next)));
      }
    };
    try {
      return await meter(() => Promise.all(clients.map(work)));
    } finally {
      await Promise.all(clients.map((client) => client.end()));
    }
  }

  async #open(): Promise<pg.Client> {
    const client = new pg.Client(this.#config);
    // a connection that is lost shows in its next statement
    client.on('error', () => undefined);
    await client.connect();
    return client;
  }
}

function statementOf(rows: readonly { readonly id: string; readonly body: string }[]): pg.QueryConfig {
  const [only] = rows;
  if (rows.length === 1 && only) return { ...UPSERT_ONE, values: [only.id, only.body] };
  return { ...UPSERT, values: [rows.map((row) => row.id), rows.map((row) => row.body)] };
}
