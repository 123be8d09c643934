import type pg from 'pg';
import { inRead } from '../../../src/store/read/transaction.ts';
import { TYPED_TABLES } from '../../../src/store/tables.ts';
import { upsertClients } from '../../../src/store/write/persist-clients.ts';
import { upsertHeads } from '../../../src/store/write/persist-heads.ts';
import { insertLedger } from '../../../src/store/write/persist-ledger.ts';
import { insertReceipts } from '../../../src/store/write/persist-receipts.ts';
import { upsertTyped } from '../../../src/store/write/persist-typed.ts';
import { RecordMemory } from '../../../src/store/write/record-memory.ts';
import type { BenchDatabase } from '../bench-postgres.ts';
import { KIND_ORDER, RowCapture, type WrittenGroup } from './captured-rows.ts';

async function writeGroup(client: pg.PoolClient, firm: string, group: WrittenGroup): Promise<void> {
  const tx = { client, firm, memory: new RecordMemory() };
  await client.query(`begin; select set_config('wellround.firm', '${firm}', true);`);
  for (const kind of KIND_ORDER) {
    const rows = group.typed.get(kind);
    if (rows) await upsertTyped(tx, kind, [...rows.values()]);
  }
  await insertLedger(tx, group.receivedAt, group.ledger);
  await upsertHeads(tx, [...group.heads.values()]);
  await upsertClients(tx, group.receivedAt, [...group.clients.values()]);
  await insertReceipts(tx, group.receivedAt, group.receipts);
  await client.query('commit');
}

const TABLES = ['ledger', 'head', 'receipt', 'client', ...Object.values(TYPED_TABLES).map((one) => one.table)];

/** Count and sum of the hashes of all rows of a firm, table by table. */
function sums(database: BenchDatabase, firm: string): Promise<string[]> {
  return inRead(database.pool, firm, async ({ client }) => {
    const found: string[] = [];
    await client.query('set local statement_timeout = 0');
    for (const table of TABLES) {
      const { rows } = await client.query<{ count: number; sum: string | null }>(
        `select count(*) as count, sum(hashtextextended(t::text, 0))::text as sum from "${table}" t`,
      );
      found.push(`${table} ${rows[0]?.count} ${rows[0]?.sum}`);
    }
    return found;
  });
}

/**
 * The bare script: it knows the rows beforehand, those that the server wrote, and writes them into the same tables
 * with the same statements in the same transactions. No line, no check, no decision, no hash.
 */
export class BareWriter {
  readonly #from: BenchDatabase;
  readonly #to: BenchDatabase;
  readonly #firm: string;
  readonly #capture: RowCapture;

  constructor(from: BenchDatabase, to: BenchDatabase, firm: string) {
    this.#from = from;
    this.#to = to;
    this.#firm = firm;
    this.#capture = new RowCapture(from.pool, firm);
  }

  /** The rows written since the last call. */
  captured(): Promise<WrittenGroup[]> {
    return this.#capture.next();
  }

  async write(groups: readonly WrittenGroup[]): Promise<void> {
    const client = await this.#to.pool.connect();
    try {
      for (const group of groups) await writeGroup(client, this.#firm, group);
    } finally {
      client.release();
    }
  }

  /** Tokens are made outside the write door; clients name them. */
  async copyTokens(): Promise<void> {
    const tokens = await inRead(this.#from.pool, this.#firm, async ({ client }) => {
      return (await client.query<{ row: string }>('select to_json(t)::text as row from token t')).rows;
    });
    const client = await this.#to.pool.connect();
    try {
      await client.query(`begin; select set_config('wellround.firm', '${this.#firm}', true);`);
      const insert = 'insert into token select (json_populate_record(null::token, $1::json)).* on conflict do nothing';
      for (const { row } of tokens) await client.query(insert, [row]);
      await client.query('commit');
    } finally {
      client.release();
    }
  }

  /** @throws where the two databases do not hold the same rows: then the comparison would mean nothing */
  async check(): Promise<void> {
    const [ours, bare] = await Promise.all([sums(this.#from, this.#firm), sums(this.#to, this.#firm)]);
    const differing = ours.findIndex((line, index) => line !== bare[index]);
    if (differing < 0) return;
    throw new Error(`the bare script wrote other rows: ${ours[differing]} became ${bare[differing]}`);
  }
}
