import { randomUUID } from 'node:crypto';
import pino from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openApp } from '../../../src/app.ts';
import { readConfig } from '../../../src/config.ts';
import { openRecords, type Records } from '../../../src/store/records.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';

let test: TestApp;
let app: Awaited<ReturnType<typeof openApp>>;
let records: Records;

beforeAll(async () => {
  test = await testApp();
  const { db, firm } = test;
  records = openRecords(db.pool);
  const ctx = { pool: db.pool, records, lane: firm.lane, now: () => new Date(firm.nowMs), replicated: true };
  app = await openApp(ctx, pino({ level: 'silent' }));
  await app.ready();
});
afterAll(async () => {
  await app.close();
  await records.close();
  await test.close();
});

it('[B8] where a commit is on two machines, what was answered is durable at once, without any backup', async () => {
  const headers = { authorization: `Bearer ${await test.token('admin')}` };
  const client = randomUUID();
  const lines = [1, 2].map((mutationId) => {
    const set = { name: `Crew ${mutationId}` };
    return JSON.stringify({ mutationId, verb: 'record', kind: 'crew', id: randomUUID(), set });
  });
  const payload = `${[JSON.stringify({ client, schemaVersion: 1, first: 1, count: 2 }), ...lines].join('\n')}\n`;
  const ndjson = { ...headers, 'content-type': 'application/x-ndjson' };
  const pushed = await app.inject({ method: 'POST', url: '/v1/sync/push', headers: ndjson, payload });
  expect(pushed.json()).toMatchObject({ lastMutation: 2, durable: 2 });
  const url = `/v1/sync/feeds?client=${client}`;
  expect((await app.inject({ method: 'GET', url, headers })).json()).toMatchObject({ lastMutation: 2, durable: 2 });
  // the same database, asked by a process that was promised nothing
  expect((await test.app.inject({ method: 'GET', url, headers })).json()).toMatchObject({
    lastMutation: 2,
    durable: 0,
  });
});

it('[B8] that is so only where the operator says it', () => {
  expect([readConfig({}).DURABLE, readConfig({ DURABLE: 'replicated' }).DURABLE]).toEqual(['backup', 'replicated']);
  expect(() => readConfig({ DURABLE: 'yes' })).toThrow(/DURABLE: "yes" was given/);
});
