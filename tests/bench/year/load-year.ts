import type pg from 'pg';
import { canonicalText } from '../../../src/protocol/content-hash.ts';
import { upsertHeads } from '../../../src/store/write/persist-heads.ts';
import { insertLedger } from '../../../src/store/write/persist-ledger.ts';
import { upsertTyped } from '../../../src/store/write/persist-typed.ts';
import { RecordMemory } from '../../../src/store/write/record-memory.ts';
import { KIND_ORDER } from '../sides/captured-rows.ts';
import type { YearOfRecords, YearRecord } from './year-states.ts';

/** Rows that are written at once. */
const AT_ONCE = 5_000;
const NO_HASH = Buffer.alloc(8);
const NO_HISTORY = Buffer.alloc(32);

/** Writes records as they would stand in the database, without deciding, deriving or hashing: none of that is measured. */
class Loader {
  readonly #client: pg.PoolClient;
  readonly #firm: string;
  readonly #tails = new Map<string, number>();
  #rows: YearRecord[] = [];
  count = 0;

  constructor(client: pg.PoolClient, firm: string) {
    this.#client = client;
    this.#firm = firm;
  }

  async take(records: Iterable<YearRecord>): Promise<void> {
    for (const record of records) {
      this.#rows.push(record);
      if (this.#rows.length >= AT_ONCE) await this.#write();
    }
    await this.#write();
  }

  async #write(): Promise<void> {
    const rows = this.#rows;
    this.#rows = [];
    this.count += rows.length;
    const tx = { client: this.#client, firm: this.#firm, memory: new RecordMemory() };
    const placed = rows.map((row) => {
      const seq = (this.#tails.get(row.feed) ?? 0) + 1;
      this.#tails.set(row.feed, seq);
      const { id, kind, rev } = row.state;
      return { row, place: { feed: row.feed, seq, kind, rev }, id };
    });
    await this.#client.query(`begin; select set_config('wellround.firm', '${this.#firm}', true);`);
    for (const kind of KIND_ORDER) {
      const its = rows.filter(({ state }) => state.kind === kind);
      await upsertTyped(
        tx,
        kind,
        its.map(({ state }) => ({ state, withdrawn: false })),
      );
    }
    await insertLedger(
      tx,
      '2026-12-31T00:00:00Z',
      placed.map(({ row, place, id }) => ({
        ...place,
        record: id,
        state: canonicalText(row.state),
        intent: null,
        client: row.state.client,
        mutation: row.state.mutation,
        liveCount: place.seq,
        contentHash: NO_HASH,
        historyHash: NO_HISTORY,
      })),
    );
    await upsertHeads(
      tx,
      placed.map(({ row, place, id }) => {
        return { ...place, id, gone: false, parent: row.parent, visit: row.visit, rowHash: NO_HASH, merge: null };
      }),
    );
    await this.#client.query('commit');
  }
}

/** Loads records into feeds that are empty, and looks at all once as the database itself does when it is left alone. */
export async function loadRecords(
  pool: pg.Pool,
  owner: pg.Client,
  firm: string,
  records: readonly Iterable<YearRecord>[],
): Promise<number> {
  const client = await pool.connect();
  try {
    const loader = new Loader(client, firm);
    for (const some of records) await loader.take(some);
    await owner.query('analyze');
    return loader.count;
  } finally {
    client.release();
  }
}

export function loadYear(pool: pg.Pool, owner: pg.Client, firm: string, year: YearOfRecords): Promise<number> {
  return loadRecords(pool, owner, firm, [year.standing(), year.work()]);
}
