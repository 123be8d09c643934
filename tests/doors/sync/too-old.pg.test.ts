import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';

vi.mock('../../../src/protocol/version.ts', async (original) => {
  const real = await original<typeof import('../../../src/protocol/version.ts')>();
  return { ...real, MIN_SCHEMA_VERSION: 2, VERSIONS: { ...real.VERSIONS, minimum: 2 } };
});

let t: TestApp;
let token: string;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('coordinator');
});
afterAll(() => t.close());

async function push(client: string, schemaVersion: number, line: string) {
  const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/x-ndjson' };
  const header = JSON.stringify({ client, schemaVersion, first: 1, count: 1 });
  const payload = `${header}\n${line}\n`;
  return (await t.app.inject({ method: 'POST', url: '/v1/sync/push', headers, payload })).json().outcomes[0];
}

async function get(url: string) {
  const response = await t.app.inject({ method: 'GET', url, headers: { authorization: `Bearer ${token}` } });
  return response.json();
}

it('[V7] below the oldest version that is taken a push is set aside, a pull works, and a coordinator may release', async () => {
  const [client, id] = [randomUUID(), v7()];
  const line = JSON.stringify({ mutationId: 1, verb: 'record', kind: 'crew', id, set: { name: 'Third crew' } });
  const kept = await push(client, 1, line);
  expect(kept).toMatchObject({ outcome: 'set_aside', code: 'version_too_old' });
  expect(kept.detail).toContain('update the app');
  const { rows } = await t.db.bypass.query('select raw, standing from set_aside where client = $1', [client]);
  expect(rows).toEqual([{ raw: Buffer.from(line), standing: 'kept' }]);
  expect(await push(client, 2, line)).toEqual(kept);
  const { feeds } = await get(`/v1/sync/feeds?client=${client}`);
  expect(feeds.map(({ feed }: { feed: string }) => feed)).toContain('firm');
  expect((await get('/v1/sync/feeds/firm/rows')).rows.length).toBeGreaterThan(0);
  const release = { mutationId: 1, verb: 'release', kind: 'set-aside', id: kept.setAside };
  expect(await push(randomUUID(), 2, JSON.stringify(release))).toMatchObject({ outcome: 'applied', id });
  expect((await get(`/v1/crews/${id}`)).fields).toEqual({ name: 'Third crew' });
});
