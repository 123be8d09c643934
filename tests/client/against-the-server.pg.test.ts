import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { SimClock } from './fake/phone.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

type Lose = 'nothing' | 'the request' | 'the answer';

interface Line {
  lose: Lose;
  asked: number;
}

/** A fetch straight into the server, over a line that can lose what it carries. */
function fetchOver(line: Line): FetchLike {
  return async (url, { method, headers, body }) => {
    line.asked += 1;
    if (line.lose === 'the request') throw new Error('network unreachable');
    const payload = body === undefined ? {} : { payload: body };
    const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
    if (line.lose === 'the answer') throw new Error('connection reset');
    const header = (name: string) => answer.headers[name];
    return {
      status: answer.statusCode,
      headers: { get: (name) => (header(name) === undefined ? null : String(header(name))) },
      text: async () => answer.body,
    };
  };
}

async function openPhone(device: string): Promise<{ phone: FieldClient; line: Line }> {
  const line: Line = { lose: 'nothing', asked: 0 };
  const transport = httpTransport({
    base: 'http://server',
    token: await server.token('crew', device),
    fetch: fetchOver(line),
  });
  const phone = await openClient({ store: memoryStore(), transport, time: clock, newId: v7 });
  await phone.setPerson(server.firm.ids.ann);
  return { phone, line };
}

async function recordPurge(phone: FieldClient, well: string): Promise<string> {
  const { event, north } = server.firm.ids;
  const arrived = clock.wall();
  const visit = await phone.record('visit', { event, well, crew: north, method: 'low-flow', arrived });
  return (await phone.record('purge', { visit: visit.id, began: clock.wall() })).id;
}

async function recordReading(phone: FieldClient, purge: string, ph: string): Promise<string> {
  clock.pass(300_000);
  const { id } = await phone.record('reading', { purge, ph, observed: await phone.observed() });
  return id;
}

async function agree(phones: readonly FieldClient[]): Promise<void> {
  for (const phone of phones) {
    const answer = await phone.context.transport.feeds((await phone.identity()).client);
    if (!answer.ok) throw new Error(answer.problem.detail);
    expect(answer.value.feeds.length).toBeGreaterThan(2);
    for (const listed of answer.value.feeds) {
      const stored = recount(await phone.context.store.recordsOfFeed(listed.feed));
      expect([listed.feed, sameTally(stored, listed)]).toEqual([listed.feed, true]);
    }
  }
}

it('two phones and the server agree to the byte, after lost answers and repeated pushes', async () => {
  const { phone: one, line } = await openPhone(server.firm.ids.phone);
  const { phone: two } = await openPhone(server.firm.ids.otherPhone);
  const bootstrap = await syncOnce(one);
  expect(bootstrap).toMatchObject({ problem: null, differing: [], repaired: [] });
  const purge = await recordPurge(one, server.firm.ids.lone);
  const ids = [await recordReading(one, purge, '7.10'), await recordReading(one, purge, '7.20')];
  line.lose = 'the answer';
  expect(await syncOnce(one)).toMatchObject({ unsent: { count: 4 } });
  line.lose = 'nothing';
  const report = await syncOnce(one);
  expect(report).toMatchObject({ pushed: 4, newIdentities: 0, problem: null, differing: [], unsent: { count: 0 } });
  expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(Array(4).fill('applied'));
  await one.amend('reading', ids[0] ?? '', { ph: '7.11' }, { reason: 'misread' });
  await syncOnce(one);
  await syncOnce(two);
  expect((await two.all('reading')).map(({ record }) => record.fields.ph)).toEqual(['7.11', '7.20']);
  await agree([one, two]);
});

it('two people who change one field without knowing of each other see the conflict, and both values stay', async () => {
  const { phone: one } = await openPhone(server.firm.ids.phone);
  const { phone: two } = await openPhone(server.firm.ids.otherPhone);
  const purge = await recordPurge(one, server.firm.ids.shallow);
  await syncOnce(one);
  await syncOnce(two);
  await one.amend('purge', purge, { remark: 'cloudy' });
  await two.amend('purge', purge, { remark: 'clear', ended: clock.wall() });
  await syncOnce(one);
  const report = await syncOnce(two);
  expect(report.outcomes).toMatchObject([{ outcome: 'conflict_kept' }]);
  await syncOnce(one);
  for (const phone of [one, two]) {
    const [conflict] = await phone.conflicts();
    expect(conflict?.record?.fields).toMatchObject({ field: 'remark', subject: purge, kept: [{ value: 'cloudy' }] });
    expect((await phone.one(purge))?.record.fields.remark).toBe('clear');
  }
  await agree([one, two]);
});

it('changes of one record made offline, one upon another, arrive without a false conflict', async () => {
  const { phone } = await openPhone(server.firm.ids.phone);
  await syncOnce(phone);
  const purge = await recordPurge(phone, server.firm.ids.deep);
  for (const remark of ['first', 'second', 'third']) await phone.amend('purge', purge, { remark });
  await phone.amend('purge', purge, { remark: null });
  const report = await syncOnce(phone);
  expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(Array(6).fill('applied'));
  await phone.amend('purge', purge, { remark: 'fourth' });
  expect((await syncOnce(phone)).outcomes).toMatchObject([{ outcome: 'applied', rev: 6 }]);
  expect((await phone.one(purge))?.standing).toBe('synced');
  await agree([phone]);
});

it('what waits for a parent is applied when that comes, and what is wrong keeps nothing else back', async () => {
  const { phone: one } = await openPhone(server.firm.ids.phone);
  const { phone: two } = await openPhone(server.firm.ids.otherPhone);
  await syncOnce(one);
  const purge = await recordPurge(one, server.firm.ids.lone);
  const orphan = await recordReading(two, purge, '6.90');
  const waiting = await syncOnce(two);
  expect(waiting.outcomes).toMatchObject([{ outcome: 'set_aside', code: 'parent_missing' }]);
  expect(await two.troubles()).toHaveLength(1);
  await syncOnce(one);
  await syncOnce(two);
  expect(await two.one(orphan)).toMatchObject({ standing: 'synced', record: { fields: { ph: '6.90' } } });
  expect(await two.troubles()).toEqual([]);
  await agree([one, two]);
});

it('finds a row that changed on the phone by asking the server for it alone', async () => {
  const { phone } = await openPhone(server.firm.ids.phone);
  await syncOnce(phone);
  const purge = await recordPurge(phone, server.firm.ids.lone);
  for (let at = 0; at < 150; at++) await recordReading(phone, purge, `7.${at}`);
  await syncOnce(phone);
  const feed = `event:${server.firm.ids.event}`;
  const stored = (await phone.context.store.recordsOfFeed(feed))[77];
  if (!stored) throw new Error('the feed is too small for this test');
  await phone.context.store.commit([{ drop: 'record', feed, id: stored.record.id }]);
  const reports = [await syncOnce(phone), await syncOnce(phone)];
  expect(reports.flatMap(({ repaired }) => repaired)).toEqual([feed]);
  expect(reports.flatMap(({ resets }) => resets)).toEqual([]);
  await agree([phone]);
});

it('a copy of a phone with a token of its own takes its own client id', async () => {
  const { phone } = await openPhone(server.firm.ids.phone);
  await syncOnce(phone);
  const purge = await recordPurge(phone, server.firm.ids.lone);
  await syncOnce(phone);
  const copy = memoryStore();
  const identity = await phone.identity();
  await copy.commit([{ put: 'identity', identity }]);
  const token = await server.token('crew', server.firm.ids.otherPhone);
  const transport = httpTransport({ base: 'http://server', token, fetch: fetchOver({ lose: 'nothing', asked: 0 }) });
  const twin = await openClient({ store: copy, transport, time: clock, newId: v7 });
  const reading = await recordReading(twin, purge, '7.77');
  expect(await syncOnce(twin)).toMatchObject({ newIdentities: 1, problem: null, unsent: { count: 0 } });
  expect((await twin.identity()).client).not.toBe(identity.client);
  await syncOnce(phone);
  expect((await phone.one(reading))?.record.fields.ph).toBe('7.77');
  await agree([phone, twin]);
});
