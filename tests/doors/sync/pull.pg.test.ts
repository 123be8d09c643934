import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';

let t: TestApp;
let token: string;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
});
afterAll(() => t.close());

const auth = (secret: string) => ({ authorization: `Bearer ${secret}` });

async function get(url: string, secret = token) {
  const response = await t.app.inject({ url, headers: auth(secret) });
  return { status: response.statusCode, body: response.json() };
}

function push(client: string, first: number, ...mutations: object[]) {
  const header = { client, schemaVersion: 1, first, count: mutations.length };
  const payload = `${[header, ...mutations].map((line) => JSON.stringify(line)).join('\n')}\n`;
  const headers = { ...auth(token), 'content-type': 'application/x-ndjson' };
  return t.app.inject({ method: 'POST', url: '/v1/sync/push', headers, payload });
}

describe('pull', () => {
  it('[F1] lists the feeds that a crew follows, with tail, count and content hash', async () => {
    const { status, body } = await get('/v1/sync/feeds');
    expect(status).toBe(200);
    const names = body.feeds.map((feed: { feed: string }) => feed.feed);
    expect(names).toEqual([`event:${t.firm.ids.event}`, 'firm', `site:${t.firm.ids.site}`]);
  });

  it('[F2] pages from nothing, and then only what is new', async () => {
    const feed = `site:${t.firm.ids.site}`;
    const first = await get(`/v1/sync/feeds/${feed}/rows?limit=2`);
    expect(first.body).toMatchObject({ more: true, tail: 5, count: 5 });
    const rest = await get(`/v1/sync/feeds/${feed}/rows?cursor=${first.body.cursor}`);
    expect(rest.body.rows).toHaveLength(3);
    expect(rest.body.more).toBe(false);
    const none = await get(`/v1/sync/feeds/${feed}/rows?cursor=${rest.body.cursor}`);
    expect(none.body).toMatchObject({ rows: [], more: false });
  });

  it('[W2] answers a push mutation by mutation, and a repeated one byte for byte', async () => {
    const client = randomUUID();
    const visit = {
      mutationId: 1,
      verb: 'record',
      kind: 'visit',
      id: v7(),
      set: {
        event: t.firm.ids.event,
        well: t.firm.ids.lone,
        crew: t.firm.ids.north,
        method: 'gauging',
        arrived: '2026-05-04T09:00:00-05:00',
      },
    };
    const once = await push(client, 1, visit, { mutationId: 2, verb: 'record' });
    expect(once.statusCode).toBe(200);
    expect(once.json().outcomes.map((one: { outcome: string }) => one.outcome)).toEqual(['applied', 'set_aside']);
    const again = await push(client, 1, visit, { mutationId: 2, verb: 'record' });
    const outcomes = (text: string) => text.slice(text.indexOf('"outcomes"'));
    expect(outcomes(again.body)).toBe(outcomes(once.body));
    const reused = await push(client, 1, { ...visit, reason: 'other' });
    expect(reused.json()).toMatchObject({ status: 409, code: 'mutation_reused' });
    const gap = await push(client, 7, { ...visit, mutationId: 7 });
    expect(gap.json()).toMatchObject({ code: 'mutation_gap', expected: 3 });
  });
});
