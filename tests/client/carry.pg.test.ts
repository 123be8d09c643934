import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import type { ClientStore } from '../../src/client/store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { SimClock } from './fake/phone.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

const fetch: FetchLike = async (url, { method, headers, body }) => {
  const payload = body === undefined ? {} : { payload: body };
  const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
  return { status: answer.statusCode, headers: { get: () => null }, text: async () => answer.body };
};

async function openPhone(device: string, person: string, store: ClientStore = memoryStore()): Promise<FieldClient> {
  const transport = httpTransport({ base: 'http://server', token: await server.token('crew', device), fetch });
  const phone = await openClient({ store, transport, time: clock, newId: v7 });
  await phone.setPerson(person);
  return phone;
}

async function twoPhones() {
  const { phone, otherPhone, ann, bob } = server.firm.ids;
  return { one: await openPhone(phone, ann), two: await openPhone(otherPhone, bob) };
}

/** A visit with a purge, a reading and a correction of it, which cites what came before it on the same phone. */
async function dayAt(phone: FieldClient, well: string): Promise<readonly string[]> {
  const { event, north } = server.firm.ids;
  const visit = await phone.record('visit', { event, well, crew: north, method: 'low-flow', arrived: clock.wall() });
  const purge = await phone.record('purge', { visit: visit.id, began: clock.wall() });
  clock.pass(300_000);
  const reading = await phone.record('reading', { purge: purge.id, ph: '7.10', observed: await phone.observed() });
  await phone.amend('reading', reading.id, { ph: '7.11' }, { reason: 'misread' });
  await phone.amend('purge', purge.id, { remark: 'clear' });
  return [visit.id, purge.id, reading.id];
}

async function ledgerRows(ids: readonly string[]): Promise<number> {
  const { rows } = await server.db.bypass.query('select count(*)::int as n from ledger where record = any($1)', [ids]);
  return rows[0].n as number;
}

it('[W2] [W5] what a partner has handed in is known when its own phone comes back: the same outcomes, nothing twice', async () => {
  const { one, two } = await twoPhones();
  await syncOnce(one);
  await syncOnce(two);
  const ids = await dayAt(one, server.firm.ids.lone);
  await two.importOutbox(await one.exportOutbox());
  expect(await syncOnce(two)).toMatchObject({ problem: null, carried: { pushed: 5, unanswered: 0, problem: null } });
  const heard = (await two.context.store.carried()).map(({ outcome }) => outcome);
  const rows = await ledgerRows(ids);
  expect(rows).toBeGreaterThan(4);
  const report = await syncOnce(one);
  expect(report).toMatchObject({ pushed: 5, newIdentities: 0, problem: null, differing: [], resets: [] });
  expect(report.outcomes).toEqual(heard);
  expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(Array(5).fill('applied'));
  expect(await ledgerRows(ids)).toBe(rows);
  expect((await one.one(ids[2] ?? ''))?.record).toMatchObject({
    rev: 2,
    by: server.firm.ids.ann,
    fields: { ph: '7.11' },
  });
});

it('[W5] a phone whose numbers the server met first in a copy keeps its client id: the copy claimed nothing', async () => {
  const { one, two } = await twoPhones();
  await syncOnce(two);
  const ids = await dayAt(one, server.firm.ids.shallow);
  await two.importOutbox(await one.exportOutbox());
  expect(await syncOnce(two)).toMatchObject({ carried: { pushed: 5, unanswered: 0, problem: null } });
  const heard = (await two.context.store.carried()).map(({ outcome }) => outcome);
  const rows = await ledgerRows(ids);
  const { client } = await one.identity();
  const owner = 'select token, last_mutation as last from client where id = $1';
  expect((await server.db.bypass.query(owner, [client])).rows).toEqual([{ token: null, last: 5 }]);
  // the dead phone comes back to life
  const report = await syncOnce(one);
  expect(report).toMatchObject({ pushed: 5, newIdentities: 0, restored: false, problem: null, differing: [] });
  expect(report.outcomes).toEqual(heard);
  expect(await ledgerRows(ids)).toBe(rows);
  expect((await one.identity()).client).toBe(client);
  expect((await server.db.bypass.query(owner, [client])).rows[0].token).not.toBeNull();
  expect(await one.conflicts()).toEqual([]);
  expect(await one.troubles()).toEqual([]);
  // a copy of an outbox that was handed in goes on to be taken, and takes nothing away
  await dayAt(one, server.firm.ids.shallow);
  await two.importOutbox(await one.exportOutbox());
  expect(await syncOnce(two)).toMatchObject({ carried: { pushed: 5, problem: null } });
  expect(await syncOnce(one)).toMatchObject({ pushed: 5, newIdentities: 0, problem: null });
});

it("[E7] [W3] a partner's copy reaches the server though the drowned phone's replacement has used its numbers first", async () => {
  const { one, two } = await twoPhones();
  await syncOnce(one);
  await syncOnce(two);
  const { phone, ann, deep, shallow } = server.firm.ids;
  const backup = await one.identity();
  const lost = await dayAt(one, deep);
  await two.importOutbox(await one.exportOutbox());
  const store = memoryStore();
  await store.commit([{ put: 'identity', identity: backup }]);
  const replacement = await openPhone(phone, ann, store);
  const own = await dayAt(replacement, shallow);
  expect(await syncOnce(replacement)).toMatchObject({ pushed: 5, problem: null });
  const report = await syncOnce(two);
  expect(report).toMatchObject({ problem: null, carried: { pushed: 5, renumbered: 5, unanswered: 0, problem: null } });
  const heard = (await two.context.store.carried()).map(({ outcome }) => outcome?.outcome);
  expect(heard).toEqual(Array(5).fill('applied'));
  for (const ids of [lost, own]) {
    expect((await two.one(ids[2] ?? ''))?.record).toMatchObject({ rev: 2, by: ann, fields: { ph: '7.11' } });
  }
  expect(await two.conflicts()).toEqual([]);
  const rows = await ledgerRows(lost);
  expect(await syncOnce(two)).toMatchObject({ problem: null, carried: { pushed: 0, problem: null } });
  expect(await ledgerRows(lost)).toBe(rows);
});
