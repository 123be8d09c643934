import { randomUUID } from 'node:crypto';
import pino from 'pino';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { openApp } from '../../src/app.ts';
import { newerMigrations, rememberedFor } from '../../src/store/newer-tables.ts';
import { openRecords } from '../../src/store/records.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { ownMigrations } from '../support/test-database.ts';

let t: TestApp;
let secret: string;

beforeAll(async () => {
  t = await testApp();
  secret = await t.token('admin');
});
afterAll(() => t.close());

/** What each door answers to the process that was there before. */
async function answers() {
  const authorization = `Bearer ${secret}`;
  const headers = { authorization, 'content-type': 'application/x-ndjson' };
  const client = randomUUID();
  const line = { mutationId: 1, verb: 'record', kind: 'crew', id: v7(), set: { name: 'East crew' } };
  const lines = [{ client, schemaVersion: 1, first: 1, count: 1 }, line];
  const payload = lines.map((one) => `${JSON.stringify(one)}\n`).join('');
  const push = await t.app.inject({ method: 'POST', url: '/v1/sync/push', headers, payload });
  const read = await t.app.inject({ url: `/v1/set-asides`, headers: { authorization } });
  const query = { query: '{ setAsides { nodes { id } } }' };
  const graph = await t.app.inject({ method: 'POST', url: '/graphql', headers: { authorization }, payload: query });
  const stored = await t.db.bypass.query('select 1 from receipt where client = $1', [client]);
  return { push, read, graph, stored: stored.rowCount };
}

it('[W14] a process of the version before says that the tables have become newer, stores nothing, and is asked again', async () => {
  const owner = await t.db.owner();
  await owner.query('alter table client rename column durable to durable_up_to');
  await owner.query('alter table set_aside rename column detail to particulars');
  const { push, read, graph, stored } = await answers();
  for (const answer of [push, read]) {
    expect([answer.statusCode, answer.json().code, answer.headers['retry-after']]).toEqual([
      503,
      'newer_database',
      '1',
    ]);
    expect(answer.json().remedy).toContain('ends the older processes');
    expect(answer.body).not.toContain('durable');
  }
  expect(graph.json().errors[0].extensions).toMatchObject({ code: 'newer_database' });
  expect(stored).toBe(0);
  await owner.query('alter table client rename column durable_up_to to durable');
  await owner.query('alter table set_aside rename column particulars to detail');
  const after = await answers();
  expect([after.push.statusCode, after.read.statusCode, after.stored]).toEqual([200, 200, 1]);
});

it('its probe says so too, also where it can go on working', async () => {
  const owner = await t.db.owner();
  expect(await newerMigrations(owner, ownMigrations)).toEqual([]);
  await owner.query(`insert into _prisma_migrations (id, checksum, migration_name, finished_at)
values ('x', 'y', '9001_later', now())`);
  const asked = vi.fn(() => newerMigrations(owner, ownMigrations));
  const now = () => new Date(t.firm.nowMs);
  const newer = rememberedFor(30_000, now, asked);
  const records = openRecords(t.db.pool);
  const ctx = { pool: t.db.pool, records, lane: t.firm.lane, now, newerMigrations: newer };
  const app = await openApp(ctx, pino({ level: 'silent' }));
  const ready = () => app.inject({ url: '/readyz' });
  const reasons = ['the database was brought up to date by a newer version (9001_later): end this process'];
  for (let times = 0; times < 3; times++) expect((await ready()).json()).toEqual({ ready: true, reasons });
  expect(asked).toHaveBeenCalledTimes(1);
  await owner.query(`delete from _prisma_migrations where id = 'x'`);
  t.firm.nowMs += 30_000;
  expect((await ready()).json()).toEqual({ ready: true, reasons: [] });
  await app.close();
  await records.close();
});
