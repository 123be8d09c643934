import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import pg from 'pg';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';
import { digestOf } from './matrix.ts';
import { type Recorded, recorder } from './recorder.ts';
import { type Firm, makeFirm, openServer } from './two-firms.ts';
import { workload } from './workload.ts';

const CANARY = 'zqcanary';
const STORE = path.join(import.meta.dirname, '../../src/store');

let db: TestDatabase;
/** The same tables, with nobody in them. */
let empty: TestDatabase;
let victim: Firm;
let attacker: TestFirm;
let statements: readonly Recorded[];

/** Not of a firm's data: they open and close transactions, and say which firm speaks. */
const FRAME = /^\s*(begin|commit|rollback|set |select set_config|select pg_advisory)/i;

/** One of each statement, the one that was answered with the most rows. */
function distinct(recorded: readonly Recorded[]): Recorded[] {
  const best = new Map<string, Recorded>();
  for (const one of recorded) {
    if (FRAME.test(one.text)) continue;
    const known = best.get(one.text);
    if (!known || known.rows < one.rows) best.set(one.text, one);
  }
  return [...best.values()];
}

beforeAll(async () => {
  db = await testDatabase();
  empty = await testDatabase();
  const { pool, recorded } = recorder(db.pool);
  const server = await openServer(pool);
  victim = await makeFirm(db.bypass, pool, server.app, CANARY);
  await workload(server.app, pool, victim);
  await server.close();
  attacker = new TestFirm(db.pool);
  await attacker.setUp();
  statements = distinct(recorded);
}, 120_000);
afterAll(async () => {
  await db.drop();
  await empty.drop();
});

/** What a statement of the victim is answered where another firm is set: its rows, how many it changed, or the error. */
async function answered(pool: pg.Pool, firm: string, { text, values }: Recorded): Promise<string> {
  const client = await pool.connect();
  try {
    await client.query('begin');
    await client.query(`select set_config('wellround.firm', $1, true)`, [firm]);
    const { rows, rowCount, command } = await client.query({ text, values: [...values] });
    await client.query('commit');
    const asked = command === 'SELECT' ? rows : rowCount;
    return JSON.stringify(asked);
  } catch (error) {
    await client.query('rollback');
    if (error instanceof pg.DatabaseError) return `refused ${error.code}`;
    throw error;
  } finally {
    client.release();
  }
}

/** The names of the statements in a folder; what stands in for a part of a name is any text. */
function namesIn(folder: string): RegExp[] {
  const files = readdirSync(path.join(STORE, folder)).map((name) =>
    readFileSync(path.join(STORE, folder, name), 'utf8'),
  );
  const names = files.flatMap((text) =>
    [...text.matchAll(/\bname: (['`])([a-z][\w${}-]*)\1,\s*text\b/g)].map((match) => match[2] ?? ''),
  );
  return names.map((name) => new RegExp(`^${name.replace(/\$\{\w+\}/g, '.+')}$`));
}

describe('with the filters of the application out of play, row-level security alone', () => {
  it('is asked every statement that the store has a name for', () => {
    const names = [...namesIn('read'), ...namesIn('write')];
    const asked = statements.map(({ name }) => name ?? '');
    expect(names.length).toBeGreaterThan(40);
    expect(names.filter((form) => !asked.some((name) => form.test(name))).map(String)).toEqual([]);
    console.info(`${statements.length} statements`);
  });

  it('shows nothing of a firm to another by any statement, even with the parameters of the victim', async () => {
    const reads = statements.filter(({ text }) => /^\s*(select|with)\b/i.test(text));
    const telling: string[] = [];
    let full = 0;
    for (const one of reads) {
      const nobody = await answered(empty.pool, attacker.id, one);
      const own = await answered(db.pool, victim.firm.id, one);
      const foreign = await answered(db.pool, attacker.id, one);
      if (own !== nobody) full += 1;
      // the database that is empty has another epoch and key of its own
      const same = (text: string) => text.replace(/"(epoch|cursorKey)":("[^"]*"|\{[^}]*\})/g, '');
      if (same(foreign) !== same(nobody)) telling.push(`${one.name ?? one.text}: ${foreign.slice(0, 300)}`);
    }
    expect(telling).toEqual([]);
    expect(reads.length).toBeGreaterThan(150);
    // so that finding nothing means something
    expect(full / reads.length).toBeGreaterThan(0.6);
  });

  it('changes nothing of a firm for another by any statement', async () => {
    const before = await digestOf(db.bypass, victim.firm.id);
    const writes = statements.filter(({ text }) => /^\s*(insert|update|delete)\b/i.test(text));
    const answers: string[] = [];
    for (const one of writes)
      answers.push(`${await answered(db.pool, attacker.id, one)} ${one.name ?? one.text.slice(0, 60)}`);
    expect(answers.filter((answer) => !/^(0|refused 42501) /.test(answer))).toEqual([]);
    expect(writes.length).toBeGreaterThan(30);
    expect(await digestOf(db.bypass, victim.firm.id)).toEqual(before);
  });
});
