import pino from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePool } from '../../src/store/pool.ts';
import { type Lane, openLane } from '../../src/writes/lane.ts';
import { Counts } from '../support/relay.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestClient, TestFirm } from '../support/test-firm.ts';
import { visitDrafts } from '../support/visit-drafts.ts';
import { configThrough, lineTo } from './storm/api-process.ts';
import { COMMIT_VANISHED, type DatabaseLine } from './storm/database-line.ts';

let db: TestDatabase;
let firm: TestFirm;
let line: DatabaseLine;
let lane: Lane;
let close: () => Promise<void>;

/** A process gives up much later; nobody waits so long for a test. */
const ANSWER_WITHIN_MS = 700;
const counts = new Counts();

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  line = await lineTo(db, counts);
  const config = { ...configThrough(line, db), query_timeout: ANSWER_WITHIN_MS };
  const pool = makePool(config, pino({ level: 'silent' }));
  lane = openLane({ pool, now: () => new Date(firm.nowMs), committed: () => undefined });
  close = () => pool.end();
});
afterAll(async () => {
  await close();
  await line.relay.close();
  await db.drop();
});

/** As the database does it, seconds later, to a session that is forgotten within a transaction. */
async function endForgotten(): Promise<number> {
  const query = `select count(*) filter (where pg_terminate_backend(pid))::int as n from pg_stat_activity
    where datname = $1 and usename = current_user and state = 'idle in transaction'`;
  return (await db.pool.query<{ n: number }>(query, [db.name])).rows[0]?.n ?? 0;
}

describe('a connection that falls silent in the middle of a write, as one whose way was forgotten between', () => {
  it('[W2] [W14] is given up: the push is tried again on another, and those behind it go on', async () => {
    const [one, other] = await Promise.all(
      [1, 2].map(async () => new TestClient((await firm.client('crew', firm.ids.phone)).actor, lane)),
    );
    if (!one || !other) throw new Error('there are no clients');
    line.arm('silent', 1);
    const pushes = [one.push(...visitDrafts(firm).drafts), other.push(...visitDrafts(firm).drafts)];
    await expect.poll(() => counts.of(COMMIT_VANISHED)).toBe(1);
    await expect.poll(endForgotten).toBe(1);
    const outcomes = (await Promise.all(pushes)).flat();
    expect(new Set(outcomes.map(({ outcome }) => outcome))).toEqual(new Set(['applied']));
    const query = 'select count(*)::int as n from receipt where client = any($1)';
    const { rows } = await db.bypass.query<{ n: number }>(query, [[one.id, other.id]]);
    expect(rows[0]?.n).toBe(outcomes.length);
  }, 15_000);

  it('is waited for longer than the database works on a statement, and not half a minute', async () => {
    const { rows } = await db.pool.query<{ ms: number }>(
      `select setting::int as ms from pg_settings where name = 'statement_timeout'`,
    );
    expect(db.pool.options.query_timeout).toBeGreaterThan(rows[0]?.ms ?? Number.POSITIVE_INFINITY);
    expect(db.pool.options.query_timeout).toBeLessThan(30_000);
  });
});
