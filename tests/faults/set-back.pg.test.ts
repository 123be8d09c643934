import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { type SyncReport, syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import { SimClock } from '../client/fake/phone.ts';
import { serverOver, type TestApp, testApp } from '../support/test-app.ts';
import { TestFirm } from '../support/test-firm.ts';

/** The server that answers under the one address that the phones know. */
let serving: TestApp;
let before: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  before = await testApp();
  serving = before;
});
afterAll(() => before.close());

const reach: FetchLike = async (url, { method, headers, body }) => {
  const payload = body === undefined ? {} : { payload: body };
  const answer = await serving.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
  const header = (name: string) => answer.headers[name];
  return {
    status: answer.statusCode,
    headers: { get: (name) => (header(name) === undefined ? null : String(header(name))) },
    text: async () => answer.body,
  };
};

async function openPhone(device: string, person: string): Promise<FieldClient> {
  const transport = httpTransport({ base: 'http://server', token: await before.token('crew', device), fetch: reach });
  const phone = await openClient({ store: memoryStore(), transport, time: clock, newId: v7 });
  await phone.setPerson(person);
  return phone;
}

async function newPurge(phone: FieldClient, well: string): Promise<string> {
  const { event, north } = before.firm.ids;
  const visit = await phone.record('visit', { event, well, crew: north, method: 'low-flow', arrived: clock.wall() });
  return (await phone.record('purge', { visit: visit.id, began: clock.wall() })).id;
}

async function read(phone: FieldClient, purge: string, ph: string): Promise<void> {
  clock.pass(300_000);
  await phone.record('reading', { purge, ph, observed: await phone.observed() });
}

async function synced(...phones: readonly FieldClient[]): Promise<SyncReport[]> {
  const reports: SyncReport[] = [];
  for (const phone of phones) reports.push(await syncOnce(phone));
  return reports;
}

/** What the phone holds of each feed, against what the server says of it. */
async function agrees(phone: FieldClient): Promise<boolean> {
  const answer = await phone.context.transport.feeds((await phone.identity()).client);
  if (!answer.ok) throw new Error(answer.problem.detail);
  const same = answer.value.feeds.map(async (listed) =>
    sameTally(recount(await phone.context.store.recordsOfFeed(listed.feed)), listed),
  );
  return (await Promise.all(same)).every(Boolean);
}

async function phValues(): Promise<string[]> {
  const { rows } = await serving.db.bypass.query<{ ph: string }>('select ph from reading order by observed_at, ph');
  return rows.map((row) => row.ph);
}

describe('a database that was set back to an older copy under running phones', () => {
  it('is noticed at the next pull, though nobody said so, and loses nothing that a phone still has', async () => {
    const { ids } = before.firm;
    const one = await openPhone(ids.phone, ids.ann);
    const two = await openPhone(ids.otherPhone, ids.bob);
    await synced(one, two);
    const purge = await newPurge(one, ids.lone);
    await read(one, purge, '7.10');
    await synced(one, two);

    const older = await before.db.copy();
    await read(one, purge, '7.20');
    const another = await newPurge(two, ids.shallow);
    await read(two, another, '6.90');
    const acknowledged = await synced(one, two, one, two);
    expect(acknowledged.map((report) => report.unsent.count)).toEqual([0, 0, 0, 0]);
    expect(await phValues()).toEqual(['7.10', '7.20', '6.90']);

    serving = await serverOver(older, Object.assign(new TestFirm(older.pool), { id: before.firm.id, ids }));
    try {
      expect(await phValues()).toEqual(['7.10']);
      const [first] = await synced(one);
      expect(first?.replayed).toBeGreaterThan(0);
      expect(new Set(first?.resets.map((reset) => reset.reason))).toEqual(new Set(['set_back']));
      await synced(two, one, two, one);
      expect(await phValues()).toEqual(['7.10', '7.20', '6.90']);
      expect([await agrees(one), await agrees(two)]).toEqual([true, true]);
      const again = await synced(one, two);
      expect(again.map(({ pushed, resets, differing }) => [pushed, resets, differing])).toEqual([
        [0, [], []],
        [0, [], []],
      ]);
    } finally {
      await serving.close();
      serving = before;
    }
  });
});
