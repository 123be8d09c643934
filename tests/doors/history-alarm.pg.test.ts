import { Writable } from 'node:stream';
import type { FastifyInstance } from 'fastify';
import pino from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openApp } from '../../src/app.ts';
import { openRecords } from '../../src/store/records.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { visitDrafts } from '../support/visit-drafts.ts';

let server: TestApp;
let app: FastifyInstance;
const records = () => openRecords(server.db.pool);
const lines: Record<string, unknown>[] = [];

beforeAll(async () => {
  server = await testApp();
  const log = new Writable({
    write(chunk, _encoding, done) {
      lines.push(JSON.parse(String(chunk)) as Record<string, unknown>);
      done();
    },
  });
  const { lane, nowMs } = server.firm;
  const ctx = { pool: server.db.pool, records: records(), lane, now: () => new Date(nowMs) };
  app = await openApp(ctx, pino({ level: 'warn' }, log));
  await app.ready();
});
afterAll(async () => {
  await app.close();
  await server.close();
});

async function pull(token: string, feed: string, cursor: string | null) {
  const from = cursor === null ? '' : `&cursor=${cursor}`;
  const url = `/v1/sync/feeds/${feed}/rows?client=${server.firm.ids.phone}${from}`;
  return app.inject({ url, headers: { authorization: `Bearer ${token}` } });
}

/** As somebody with the rights of the owner could: the past says something else, and all hashes fit it. */
async function rewrite(feed: string): Promise<void> {
  const owner = await server.db.owner();
  await owner.query('alter table ledger disable trigger ledger_append_only');
  const text = 'update ledger set history_hash = sha256(history_hash) where firm = $1 and feed = $2';
  await server.db.bypass.query(text, [server.firm.id, feed]);
  await owner.query('alter table ledger enable trigger ledger_append_only');
}

it('[F6] a history that was rewritten is noticed at the next pull of a phone, and the log says so with feed and reader', async () => {
  const { event, phone } = server.firm.ids;
  const feed = `event:${event}`;
  const client = await server.firm.client('admin');
  await client.push(...visitDrafts(server.firm).drafts);
  const token = await server.token('crew', phone);
  const { cursor } = (await pull(token, feed, null)).json() as { cursor: string };
  expect((await pull(token, feed, cursor)).statusCode).toBe(200);
  expect(lines).toEqual([]);
  await rewrite(feed);
  const refused = await pull(token, feed, cursor);
  expect([refused.statusCode, refused.json().reason]).toEqual([410, 'other_history']);
  expect(lines).toMatchObject([
    { level: 40, alarm: 'other_history', firm: server.firm.id, feed, device: phone, client: phone },
  ]);
  expect(String(lines[0]?.msg)).toContain('set back or rewritten');
  expect(JSON.stringify(lines)).not.toContain(token);
  // a cursor that is merely no cursor is no alarm
  expect((await pull(token, feed, 'nothing')).statusCode).toBe(410);
  expect(lines).toHaveLength(1);
});
