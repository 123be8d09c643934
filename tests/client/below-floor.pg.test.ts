import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recount, sameTally } from '../../src/client/tally.ts';
import { compact } from '../../src/writes/compact.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { purgeDrafts } from '../support/visit-drafts.ts';
import { SimClock } from './fake/phone.ts';

let server: TestApp;
const clock = new SimClock();

beforeAll(async () => {
  server = await testApp();
});
afterAll(() => server.close());

const fetchIt: FetchLike = async (url, { method, headers, body }) => {
  const payload = body === undefined ? {} : { payload: body };
  const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
  const get = (name: string) => (answer.headers[name] === undefined ? null : String(answer.headers[name]));
  return { status: answer.statusCode, headers: { get }, text: async () => answer.body };
};

async function openPhone(): Promise<FieldClient> {
  const token = await server.token('crew', server.firm.ids.phone);
  const transport = httpTransport({ base: 'http://server', token, fetch: fetchIt });
  const phone = await openClient({ store: memoryStore(), transport, time: clock, newId: v7 });
  await phone.setPerson(server.firm.ids.ann);
  return phone;
}

it('[F12] a phone that was away for too long begins those feeds anew, keeps its outbox word for word, and ends equal', async () => {
  const { firm, db } = server;
  const office = await firm.client('coordinator');
  const later = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site: firm.ids.site, name: 'Later', starts: '2026-06-01', ends: '2026-06-02', standing: 'open', plan };
  await office.push({ kind: 'event', id: later, set });
  const crew = await firm.client('crew', firm.ids.phone);
  const [stays, goes] = [purgeDrafts(firm), purgeDrafts(firm)];
  await crew.push(...stays.drafts, ...goes.drafts);
  const phone = await openPhone();
  expect(await syncOnce(phone)).toMatchObject({ problem: null, differing: [] });

  // while it is away one visit moves out and somebody changes the other; then the time is up
  await office.push(
    {
      verb: 'rehome',
      kind: 'visit',
      id: goes.ids.visit,
      base: { rev: 1 },
      set: { event: later },
      reason: 'wrong round',
    },
    { verb: 'amend', kind: 'purge', id: stays.ids.purge, base: { rev: 1 }, set: { remark: 'clear' } },
  );
  const now = () => new Date(firm.nowMs);
  expect((await compact(db.pool, firm.id, { before: new Date(firm.nowMs + 1), now })).rows).toBeGreaterThan(5);
  await phone.amend('purge', stays.ids.purge, { remark: 'cloudy' });
  const [entry] = await phone.context.store.outbox();

  const report = await syncOnce(phone);
  expect(report).toMatchObject({
    pushed: 1,
    replayed: 0,
    newIdentities: 0,
    problem: null,
    differing: [],
    repaired: [],
  });
  expect(report.resets).toEqual([{ feed: `event:${firm.ids.event}`, reason: 'below_floor' }]);
  // the revision that its base names still means what it did, so the clash is seen
  expect(report.outcomes).toMatchObject([{ outcome: 'conflict_kept', mutationId: entry?.mutationId }]);
  const raw = await db.bypass.query(`select intent from ledger where client = $1`, [(await phone.identity()).client]);
  expect(raw.rows).toHaveLength(1);
  const [kept] = await phone.context.store.outbox();
  expect(kept?.line).toBe(entry?.line);
  expect(await phone.one(goes.ids.visit)).toBeNull();
  const answer = await phone.context.transport.feeds((await phone.identity()).client);
  if (!answer.ok) throw new Error(answer.problem.detail);
  for (const listed of answer.value.feeds) {
    const stored = recount(await phone.context.store.recordsOfFeed(listed.feed));
    expect([listed.feed, sameTally(stored, listed)]).toEqual([listed.feed, true]);
  }
  expect((await syncOnce(phone)).resets).toEqual([]);
});
