import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { LIVE_CHANNEL } from '../../../src/store/live/doorbell-text.ts';
import { Listener } from '../../../src/store/live/listener.ts';
import { makePool } from '../../../src/store/pool.ts';
import { type TestDatabase, testDatabase } from '../../support/test-database.ts';
import { testLog } from '../../support/test-log.ts';

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

function say(what: string): Promise<unknown> {
  return db.pool.query('select pg_notify($1, $2)', [LIVE_CHANNEL, what]);
}

it('[L3] listens first and looks then, each time that it connects: what is said while it looks is heard', async () => {
  const heard: string[] = [];
  let looks = 0;
  const listener = new Listener({
    pool: db.pool,
    heard: (payload) => void heard.push(payload),
    async look(client) {
      looks += 1;
      await client.query('select 1');
      await say(`during look ${looks}`);
    },
    lookEveryMs: 3_600_000,
    log: testLog,
  });
  listener.start();
  await expect.poll(() => heard).toEqual(['during look 1']);
  expect(listener.listening).toBe(true);
  await db.pool.query(`select pg_terminate_backend(pid) from pg_stat_activity where application_name = 'wellround-live'
    and datname = current_database()`);
  await expect.poll(() => heard).toEqual(['during look 1', 'during look 2']);
  await listener.stop();
  await say('afterwards');
  expect([heard.length, listener.listening]).toEqual([2, false]);
});

it('[L3] takes a look that fails for a lost connection, and tries again and again, later each time', async () => {
  const begins: number[] = [];
  const listener = new Listener({
    pool: db.pool,
    heard: () => undefined,
    async look(client) {
      begins.push(performance.now());
      if (begins.length < 4) await client.query('select what is not there');
    },
    lookEveryMs: 3_600_000,
    log: { ...testLog, warn: () => undefined },
  });
  listener.start();
  await expect.poll(() => begins.length, { timeout: 5_000 }).toBe(4);
  const pauses = begins.slice(1).map((at, index) => at - (begins[index] ?? 0));
  for (const [index, least] of [50, 100, 200].entries()) expect(pauses[index]).toBeGreaterThanOrEqual(least);
  await listener.stop();
});

it('[L7] leaves no connection behind, whenever it is stopped', async () => {
  const count = `select count(*)::int as n from pg_stat_activity where application_name = 'wellround-live'
    and datname = current_database()`;
  for (let ms = 0; ms < 24; ms++) {
    const look = async () => undefined;
    const listener = new Listener({ pool: db.pool, heard: () => undefined, look, lookEveryMs: 1, log: testLog });
    listener.start();
    await sleep(ms);
    const begunMs = performance.now();
    await listener.stop();
    expect(performance.now() - begunMs).toBeLessThan(2_000);
  }
  await expect.poll(async () => (await db.pool.query(count)).rows[0].n, { timeout: 5_000 }).toBe(0);
});

it('[L7] stops at once, also where no database answers', async () => {
  const pool = makePool({ host: '127.0.0.1', port: 1, user: 'nobody', database: 'none' }, testLog);
  const listener = new Listener({
    pool,
    heard: () => undefined,
    look: async () => undefined,
    lookEveryMs: 1_000,
    log: { ...testLog, warn: () => undefined },
  });
  listener.start();
  const begunMs = performance.now();
  await listener.stop();
  expect(performance.now() - begunMs).toBeLessThan(1_000);
  await pool.end();
});
