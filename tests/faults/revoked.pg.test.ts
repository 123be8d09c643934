import { setTimeout as sleep } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type OpenServer, openServer } from '../security/two-firms.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

let t: TestApp;
/** Another process on the same database, so far as tokens are concerned. */
let other: OpenServer;

beforeAll(async () => {
  t = await testApp();
  other = await openServer(t.db.pool);
});
afterAll(async () => {
  await other.close();
  await t.close();
});

/** Issues a token, uses it everywhere so that it is remembered, and withdraws it at the first server. */
async function revoked(): Promise<{ secret: string; since: number }> {
  const admin = { authorization: `Bearer ${await t.token('admin')}` };
  const payload = { label: 'Lost phone', role: 'crew', device: t.firm.ids.phone };
  const { id, secret } = (await t.app.inject({ method: 'POST', url: '/v1/tokens', headers: admin, payload })).json();
  const headers = { authorization: `Bearer ${secret}` };
  for (const app of [t.app, other.app]) expect((await app.inject({ url: '/v1/me', headers })).statusCode).toBe(200);
  const answer = await t.app.inject({ method: 'POST', url: `/v1/tokens/${id}/revoke`, headers: admin });
  expect(answer.statusCode).toBe(200);
  return { secret, since: performance.now() };
}

describe('a token that was withdrawn', () => {
  it('is refused at the next request where it was withdrawn, and within two seconds everywhere', async () => {
    const { secret, since } = await revoked();
    const headers = { authorization: `Bearer ${secret}` };
    for (const url of ['/v1/me', '/v1/wells', '/v1/sync/feeds', '/v1/sync/feeds/firm/rows']) {
      expect([url, (await t.app.inject({ url, headers })).statusCode]).toEqual([url, 401]);
    }
    const query = { method: 'POST', url: '/graphql', headers, payload: { query: '{ wells { totalCount } }' } } as const;
    expect((await t.app.inject(query)).statusCode).toBe(401);
    while ((await other.app.inject({ url: '/v1/me', headers })).statusCode !== 401) {
      expect(performance.now() - since).toBeLessThan(2_000);
      await sleep(50);
    }
    expect((await other.app.inject(query)).statusCode).toBe(401);
  });

  it('[W13] may still hand in what its phone has, which is kept for a person and changes nothing', async () => {
    const { secret } = await revoked();
    const id = v7();
    const header = JSON.stringify({ client: v7(), schemaVersion: 1, first: 1, count: 1 });
    const line = JSON.stringify({ mutationId: 1, verb: 'record', kind: 'crew', id, set: { name: 'Of a lost phone' } });
    const headers = { authorization: `Bearer ${secret}`, 'content-type': 'application/x-ndjson' };
    const answer = await t.app.inject({
      method: 'POST',
      url: '/v1/sync/push',
      headers,
      payload: `${header}\n${line}\n`,
    });
    const [outcome] = answer.json().outcomes;
    expect(outcome).toMatchObject({ outcome: 'set_aside', code: 'device_revoked' });
    const office = { authorization: `Bearer ${await t.token('coordinator')}` };
    const kept = (await t.app.inject({ url: `/v1/set-asides/${outcome.setAside}`, headers: office })).json();
    expect([kept.standing, kept.text]).toEqual(['kept', line]);
    expect((await t.app.inject({ url: `/v1/crews/${id}`, headers: office })).statusCode).toBe(404);
  });
});
