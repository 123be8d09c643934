import pino from 'pino';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openApp } from '../../../src/app.ts';
import { openRecords } from '../../../src/store/records.ts';
import { faultyPool } from '../../support/faulty-pool.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';

let t: TestApp;
let close: () => Promise<void>;
let app: TestApp['app'];
/** While set, reading a feed from its beginning takes as long as a test likes. */
let held: Promise<void> | null = null;
let letGo: () => void = () => undefined;
let begun = 0;

beforeAll(async () => {
  t = await testApp();
  const pool = faultyPool(t.db.pool, (statement) => {
    if (held === null || !statement.includes('not gone')) return;
    begun += 1;
    return held;
  });
  const records = openRecords(t.db.pool);
  const now = () => new Date(t.firm.nowMs);
  app = await openApp({ pool, records, lane: t.firm.lane, now }, pino({ level: 'silent' }));
  close = () => app.close().finally(() => records.close());
});
afterAll(async () => {
  await close();
  await t.close();
});

interface Page {
  readonly cursor: string;
  readonly more: boolean;
}

it('[L8] however many phones begin anew, those that come for what is new are answered', async () => {
  const headers = { authorization: `Bearer ${await t.token('coordinator')}` };
  const pull = (query: string) => app.inject({ url: `/v1/sync/feeds/firm/rows?${query}`, headers });
  const { cursor } = (await pull('')).json<Page>();
  held = new Promise((resolve) => (letGo = resolve));
  const many = Array.from({ length: 100 }, () => pull('limit=3'));
  await expect.poll(() => begun).toBe(4);
  for (let time = 0; time < 20; time++) expect((await pull(`cursor=${cursor}`)).statusCode).toBe(200);
  expect((await app.inject({ url: '/v1/wells', headers })).statusCode).toBe(200);
  letGo();
  held = null;
  const answers = await Promise.all(many);
  const by = (status: number) => answers.filter(({ statusCode }) => statusCode === status);
  expect([by(200).length, by(503).length]).toEqual([68, 32]);
  expect(by(503)[0]?.headers['retry-after']).toBe('1');
  expect(by(503)[0]?.json().code).toBe('busy');
});

it('[L8] a cursor that was given with more to come says so of itself, and the last one does not', async () => {
  const headers = { authorization: `Bearer ${await t.token('coordinator')}` };
  const marks: [boolean, boolean][] = [];
  for (let [cursor, more] = ['', true]; more; ) {
    const url = `/v1/sync/feeds/firm/rows?limit=3${cursor && `&cursor=${cursor}`}`;
    const page = (await app.inject({ url, headers })).json<Page>();
    const [body = ''] = page.cursor.split('.');
    marks.push([page.more, JSON.parse(Buffer.from(body, 'base64url').toString()).m === 1]);
    [cursor, more] = [page.cursor, page.more];
  }
  expect(marks.length).toBeGreaterThan(2);
  expect(marks.filter(([more, marked]) => more !== marked)).toEqual([]);
});
