import { v7 } from 'uuid';
import { afterAll, beforeEach, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { readCsv } from '../documents/read-csv.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { TestClient } from '../support/test-firm.ts';
import { SimClock } from './fake/phone.ts';

let server: TestApp;
let office: TestClient;
const clock = new SimClock();
const opened: TestApp[] = [];
/** A phone of a crew that is assigned to nothing. */
const stranger = v7();

beforeEach(async () => {
  server = await testApp();
  opened.push(server);
  office = await server.firm.client('coordinator');
  const crew = v7();
  await office.push(
    { kind: 'crew', id: crew, set: { name: 'Third crew' } },
    { kind: 'device', id: stranger, set: { label: 'Phone 3', crew } },
  );
});
afterAll(async () => {
  for (const one of opened) await one.close();
});

const fetch: FetchLike = async (url, { method, headers, body }) => {
  const payload = body === undefined ? {} : { payload: body };
  const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
  return { status: answer.statusCode, headers: { get: () => null }, text: async () => answer.body };
};

async function openPhone(device: string): Promise<FieldClient> {
  const transport = httpTransport({ base: 'http://server', token: await server.token('crew', device), fetch });
  const phone = await openClient({ store: memoryStore(), transport, time: clock, newId: v7 });
  await phone.setPerson(server.firm.ids.ann);
  await syncOnce(phone);
  return phone;
}

/** A visit and its purge, in the outbox of a phone whose client id the server has met before. */
async function captured(phone: FieldClient): Promise<{ visit: string; purge: string }> {
  const { event, lone: well, north: crew } = server.firm.ids;
  const { id: visit } = await phone.record('visit', { event, well, crew, method: 'low-flow', arrived: clock.wall() });
  await syncOnce(phone);
  const { id: purge } = await phone.record('purge', { visit, began: clock.wall() });
  return { visit, purge };
}

async function carry(from: FieldClient, by: FieldClient): Promise<void> {
  await by.importOutbox(await from.exportOutbox());
  expect(await syncOnce(by)).toMatchObject({ problem: null, carried: { unanswered: 0, problem: null } });
}

async function stateOf(id: string): Promise<Record<string, unknown>> {
  const text = 'select state from ledger where record = $1 order by rev desc limit 1';
  return (await server.db.bypass.query(text, [id])).rows[0]?.state;
}

async function get(url: string) {
  const headers = { authorization: `Bearer ${await server.token('coordinator')}` };
  return server.app.inject({ url, headers });
}

async function flags(): Promise<{ fields: Record<string, unknown> }[]> {
  const { items } = (await get('/v1/flags')).json() as { items: { fields: Record<string, unknown> }[] };
  return items.filter(({ fields }) => fields.rule === 'carried-without-right');
}

it('[W5] a copy that a device of another crew hands in names that device, in the record, its flag and its history', async () => {
  const [one, two] = [await openPhone(server.firm.ids.phone), await openPhone(stranger)];
  const { visit, purge } = await captured(one);
  await one.amend('visit', visit, { outcomeReason: 'no water' });
  await carry(one, two);
  expect(await stateOf(purge)).toMatchObject({ rev: 1, carriedBy: [{ device: stranger, right: false, rev: 1 }] });
  expect(await stateOf(visit)).toMatchObject({ rev: 2, carriedBy: [{ device: stranger, right: false, rev: 2 }] });
  const raised = await flags();
  expect(raised).toMatchObject([{ fields: { subject: visit, addressee: 'office', standing: 'raised' } }]);
  expect(raised[0]?.fields.sentence).toContain('2 records of the visit at W-1 came as a copy');
  // its own phone goes on: what was carried stays said, and what was not is not said of it
  await one.amend('visit', visit, { left: clock.wall() });
  await syncOnce(one);
  expect(await stateOf(visit)).toMatchObject({ rev: 3, carriedBy: [{ device: stranger, right: false, rev: 2 }] });
  expect(await flags()).toHaveLength(1);
  const history = (await get(`/v1/visits/${visit}/history/export`)).json() as { entries: Record<string, unknown>[] };
  expect(history.entries.map(({ handedInBy }) => handedInBy)).toEqual([
    undefined,
    { id: stranger, label: 'Phone 3', right: false },
    undefined,
  ]);
  const [head = [], ...lines] = readCsv((await get(`/v1/purges/${purge}/history/export?format=csv`)).body);
  expect(lines[0]?.[head.indexOf('handed_in_by')]).toBe('Phone 3');
  expect(await recompute(server.db.pool, server.firm.id)).toEqual([]);
});

it('[W5] a partner of an assigned crew is named as well, and nobody is asked', async () => {
  const [one, two] = [await openPhone(server.firm.ids.phone), await openPhone(server.firm.ids.otherPhone)];
  const { event } = server.firm.ids;
  const { rows } = await server.db.bypass.query('select state from ledger where record = $1', [
    server.firm.ids.otherPhone,
  ]);
  const { crew } = rows[0].state.fields;
  if (crew !== server.firm.ids.north) await office.push({ kind: 'assignment', set: { event, crew } });
  const { visit, purge } = await captured(one);
  await carry(one, two);
  const carriedBy = [{ device: server.firm.ids.otherPhone, right: true, rev: 1 }];
  expect(await stateOf(purge)).toMatchObject({ carriedBy });
  // what the phone had handed in itself before was only said again
  expect(await stateOf(visit)).not.toHaveProperty('carriedBy');
  expect(await flags()).toEqual([]);
});

it('[W5] what a copy brought and waited for a record names who handed it in when it is applied', async () => {
  const [one, two] = [await openPhone(server.firm.ids.phone), await openPhone(stranger)];
  const { event, lone: well, north: crew } = server.firm.ids;
  await captured(one);
  const [visit, purge] = [v7(), v7()];
  const { id: reading } = await one.record('reading', { purge, ph: '7.10', observed: await one.observed() });
  await carry(one, two);
  const arrived = clock.wall();
  await office.push({ kind: 'visit', id: visit, set: { event, well, crew, method: 'low-flow', arrived } });
  await office.push({ kind: 'purge', id: purge, set: { visit, began: arrived } });
  expect(await stateOf(reading)).toMatchObject({ carriedBy: [{ device: stranger, right: false }] });
  expect((await flags()).map(({ fields }) => fields.subject)).toContain(visit);
});
