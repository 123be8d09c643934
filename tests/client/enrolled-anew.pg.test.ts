import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { ClientStore } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { newSecret, secretHash } from '../../src/store/tokens.ts';
import { insertToken } from '../../src/store/write/token-rows.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { SimClock } from './fake/phone.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

let answerLost = false;

const fetch: FetchLike = async (url, { method, headers, body }) => {
  const payload = body === undefined ? {} : { payload: body };
  const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
  if (answerLost && url.includes('/push')) throw new Error('the line is down');
  return { status: answer.statusCode, headers: { get: () => null }, text: async () => answer.body };
};

async function open(store: ClientStore, token: string): Promise<FieldClient> {
  const transport = httpTransport({ base: 'http://server', token, fetch });
  const phone = await openClient({ store, transport, time: clock, newId: v7 });
  await phone.setPerson(server.firm.ids.ann);
  return phone;
}

async function tokenUntil(expiresAt: string | null, device: string): Promise<string> {
  const secret = newSecret();
  const createdAt = new Date(server.firm.nowMs).toISOString();
  const row = {
    firm: server.firm.id,
    id: randomUUID(),
    hash: secretHash(secret),
    label: 'Phone',
    role: 'crew' as const,
  };
  await insertToken(server.db.pool, { ...row, device, createdAt, expiresAt });
  return secret;
}

async function visitAt(phone: FieldClient, well: string): Promise<string> {
  const { event, north: crew } = server.firm.ids;
  const visit = await phone.record('visit', { event, well, crew, method: 'low-flow', arrived: clock.wall() });
  await phone.amend('visit', visit.id, { outcomeReason: 'rain' });
  return visit.id;
}

async function revOf(id: string): Promise<number> {
  const { rows } = await server.db.bypass.query('select rev from visit where id = $1', [id]);
  return rows[0]?.rev ?? 0;
}

describe('a phone whose token expires in the field', () => {
  it('[E8] [W5] loses nothing, and goes on under its client id with the next token of its device', async () => {
    const { phone: device, lone } = server.firm.ids;
    const store = memoryStore();
    const soon = new Date(server.firm.nowMs + 60_000).toISOString();
    const before = await open(store, await tokenUntil(soon, device));
    const first = await visitAt(before, lone);
    expect(await syncOnce(before)).toMatchObject({ problem: null, pushed: 2 });
    server.firm.nowMs += 120_000;
    const second = await visitAt(before, lone);
    const refused = await syncOnce(before);
    expect(refused).toMatchObject({
      problem: { status: 401, code: 'token_expired' },
      unsent: { count: 2 },
      newIdentities: 0,
    });
    expect(await revOf(second)).toBe(0);
    const third = await visitAt(before, lone);
    expect((await before.one(second))?.standing).toBe('unsent');
    const { client } = await before.identity();

    const after = await open(store, await tokenUntil(null, device));
    const report = await syncOnce(after);
    expect(report).toMatchObject({ problem: null, pushed: 4, newIdentities: 0, restored: false, unsent: { count: 0 } });
    expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(Array(4).fill('applied'));
    expect((await after.identity()).client).toBe(client);
    for (const id of [first, second, third]) expect(await revOf(id)).toBe(2);
    expect(await after.conflicts()).toEqual([]);
  });

  it('[W5] is answered 409 where the next token is of another device', async () => {
    const { phone: device, otherPhone, lone } = server.firm.ids;
    const store = memoryStore();
    const before = await open(store, await tokenUntil(null, device));
    await syncOnce(before);
    await visitAt(before, lone);
    const { client } = await before.identity();
    const after = await open(store, await tokenUntil(null, otherPhone));
    const report = await syncOnce(after);
    expect(report).toMatchObject({ problem: null, pushed: 2, newIdentities: 1, restored: false });
    const { client: own, formerly = null } = await after.identity();
    expect([own === client, formerly]).toEqual([false, null]);
  });

  it('[W5] [E7] says nothing again that the server has, where the next token is of another device', async () => {
    const { phone: device, otherPhone, lone } = server.firm.ids;
    const store = memoryStore();
    const before = await open(store, await tokenUntil(null, device));
    await syncOnce(before);
    const visit = await visitAt(before, lone);
    const level = await before.record('water-level', {
      visit,
      purpose: 'before-purge',
      state: 'measured',
      depthToWaterFt: '12.34',
      observed: await before.observed(),
    });
    await before.amend('water-level', level.id, { depthToWaterFt: '12.43' }, { reason: 'misread' });
    answerLost = true;
    expect(await syncOnce(before)).toMatchObject({ pushed: 0, unsent: { count: 4 } });
    answerLost = false;
    await before.amend('water-level', level.id, { depthToWaterFt: '12.44' }, { reason: 'misread again' });
    const after = await open(store, await tokenUntil(null, otherPhone));
    const report = await syncOnce(after);
    expect(report).toMatchObject({ problem: null, pushed: 5, newIdentities: 1, restored: false, unsent: { count: 0 } });
    // what was said under the former client id is another's by now: the last change goes over it
    expect(report.outcomes.map(({ outcome }) => outcome)).toEqual([...Array(4).fill('applied'), 'merged']);
    expect(await revOf(visit)).toBe(2);
    const { rows } = await server.db.bypass.query(
      "select rev, state::jsonb->'fields'->>'depthToWaterFt' as depth from ledger where record = $1 order by rev",
      [level.id],
    );
    expect(rows.map(({ rev, depth }) => [Number(rev), depth])).toEqual([
      [1, '12.34'],
      [2, '12.43'],
      [3, '12.44'],
    ]);
    expect([await after.conflicts(), await after.troubles()]).toEqual([[], []]);
  });

  it('[W5] [W13] a revoked token hands in nothing under the client id that went on with another token', async () => {
    const { phone: device, lone } = server.firm.ids;
    const store = memoryStore();
    const lost = await tokenUntil(null, device);
    const before = await open(store, lost);
    await visitAt(before, lone);
    await syncOnce(before);
    const after = await open(store, await tokenUntil(null, device));
    await visitAt(after, lone);
    expect(await syncOnce(after)).toMatchObject({ problem: null, pushed: 2, newIdentities: 0 });
    await server.db.bypass.query('update token set revoked_at = now() where hash = $1', [secretHash(lost)]);
    server.firm.nowMs += 1;
    const { client, nextMutation } = await after.identity();
    const line = { mutationId: nextMutation, verb: 'record', kind: 'crew', id: v7(), set: { name: 'Of a thief' } };
    const header = { client, schemaVersion: 1, first: nextMutation, count: 1 };
    for (const carried of ['', '?carried=true']) {
      await new Promise((resolve) => setTimeout(resolve, 1_100));
      const answer = await server.app.inject({
        method: 'POST',
        url: `/v1/sync/push${carried}`,
        headers: { authorization: `Bearer ${lost}`, 'content-type': 'application/x-ndjson' },
        payload: `${JSON.stringify(header)}\n${JSON.stringify(line)}\n`,
      });
      expect([answer.statusCode, answer.json().code]).toEqual([409, 'client_of_other']);
    }
    await visitAt(after, lone);
    expect(await syncOnce(after)).toMatchObject({ problem: null, pushed: 2, newIdentities: 0 });
  });
});
