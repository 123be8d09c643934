import { v7 } from 'uuid';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import type { FetchLike } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { TestClient } from '../support/test-firm.ts';
import { SimClock } from './fake/phone.ts';

let server: TestApp;
let office: TestClient;
let clock: SimClock;
/** What to do with a request on its way; null lets it through. */
let cut: ((url: string) => boolean) | null;
const opened: TestApp[] = [];

beforeEach(async () => {
  server = await testApp();
  opened.push(server);
  office = await server.firm.client('coordinator');
  clock = new SimClock();
  cut = null;
});
afterAll(async () => {
  for (const one of opened) await one.close();
});

const fetch: FetchLike = async (url, { method, headers, body }) => {
  const payload = body === undefined ? {} : { payload: body };
  const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
  if (cut?.(url)) throw new Error('the answer was lost');
  return { status: answer.statusCode, headers: { get: () => null }, text: async () => answer.body };
};

async function openPhone(device = server.firm.ids.phone): Promise<FieldClient> {
  const transport = httpTransport({ base: 'http://server', token: await server.token('crew', device), fetch });
  const phone = await openClient({ store: memoryStore(), transport, time: clock, newId: v7 });
  await phone.setPerson(server.firm.ids.ann);
  await syncOnce(phone);
  return phone;
}

async function purgeAt(phone: FieldClient): Promise<{ visit: string; purge: string }> {
  const { event, lone: well, north: crew } = server.firm.ids;
  const visit = await phone.record('visit', { event, well, crew, method: 'low-flow', arrived: clock.wall() });
  const purge = await phone.record('purge', { visit: visit.id, began: clock.wall() });
  return { visit: visit.id, purge: purge.id };
}

async function readingAt(phone: FieldClient, purge: string, ph: string): Promise<string> {
  clock.pass(300_000);
  return (await phone.record('reading', { purge, ph, observed: await phone.observed() })).id;
}

/** The office needs the crew elsewhere, a while after whatever was done before. */
async function endAssignments(): Promise<string> {
  server.firm.nowMs += 60_000;
  const { rows } = await server.db.bypass.query('select id from assignment where crew = $1 and not voided', [
    server.firm.ids.north,
  ]);
  const drafts = rows.map(({ id }) => ({ verb: 'void', kind: 'assignment', id, reason: 'needed elsewhere' }));
  for (const { outcome } of await office.push(...drafts)) expect(outcome).toBe('applied');
  const ended = new Date(server.firm.nowMs).toISOString();
  server.firm.nowMs += 60_000;
  return ended;
}

async function lateFlags() {
  const headers = { authorization: `Bearer ${await server.token('coordinator')}` };
  const answer = await server.app.inject({ url: '/v1/flags', headers });
  return answer
    .json()
    .items.filter(({ fields }: never) => (fields as { rule: string }).rule === 'crew-no-longer-assigned');
}

async function stateOf(id: string): Promise<Record<string, unknown> | undefined> {
  const text = 'select state from ledger where record = $1 order by rev desc limit 1';
  return (await server.db.bypass.query(text, [id])).rows[0]?.state;
}

async function isSound(): Promise<void> {
  expect(await recompute(server.db.pool, server.firm.id)).toEqual([]);
}

describe('a crew whose assignment ended while its phone was offline', () => {
  it('[E5] [D1] loses nothing: all of it is applied and flagged, the feed goes, and the outbox becomes empty', async () => {
    const phone = await openPhone();
    const { event } = server.firm.ids;
    const { visit, purge } = await purgeAt(phone);
    const reading = await readingAt(phone, purge, '7.10');
    const ended = await endAssignments();
    const report = await syncOnce(phone);
    expect(report).toMatchObject({ problem: null, newIdentities: 0, restored: false, unsent: { count: 0 } });
    expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(['applied', 'applied', 'applied']);
    expect(report.dropped).toContain(`event:${event}`);
    expect(await phone.troubles()).toEqual([]);
    for (const id of [visit, purge, reading]) {
      const { afterAssignment } = (await stateOf(id)) as { afterAssignment: { ended: string } };
      expect(Date.parse(afterAssignment.ended)).toBe(Date.parse(ended));
    }
    const flags = await lateFlags();
    expect(flags).toHaveLength(1);
    expect(flags[0].fields).toMatchObject({
      subject: visit,
      severity: 'question',
      addressee: 'office',
      standing: 'raised',
    });
    expect(flags[0].fields.sentence).toContain('3 records of the visit at W-1 came from a crew');
    await isSound();
    expect((await phone.context.store.feeds()).map(({ feed }) => feed)).toEqual(['firm']);
    await server.db.bypass.query('update client set durable = last_mutation');
    expect(await syncOnce(phone)).toMatchObject({ problem: null, pushed: 0, dropped: [] });
    expect(await phone.context.store.outbox()).toEqual([]);
  });

  it('[E5] keeps its unsent work in view after the feed is gone, and hands it in when the line holds', async () => {
    const phone = await openPhone();
    const { purge } = await purgeAt(phone);
    await readingAt(phone, purge, '7.10');
    await endAssignments();
    cut = (url) => url.includes('/push');
    // the push is applied and its answer lost: the phone does not know, and the pull of the same sync comes too late
    expect((await syncOnce(phone)).problem?.code).toBe('no_answer');
    const second = await readingAt(phone, purge, '7.20');
    expect((await phone.one(second))?.standing).toBe('unsent');
    cut = null;
    const report = await syncOnce(phone);
    expect(report).toMatchObject({ problem: null, newIdentities: 0, unsent: { count: 0 } });
    expect(report.outcomes.map(({ outcome }) => outcome)).toEqual(Array(4).fill('applied'));
    expect((await lateFlags())[0].fields.sentence).toContain('4 records');
    await isSound();
  });

  it('[E5] did not hear that it ended, where the answer that would have told was lost', async () => {
    const phone = await openPhone();
    const { purge } = await purgeAt(phone);
    await syncOnce(phone);
    await endAssignments();
    cut = (url) => url.includes('/feeds');
    expect((await syncOnce(phone)).problem?.code).toBe('no_answer');
    cut = null;
    await readingAt(phone, purge, '7.10');
    expect((await syncOnce(phone)).outcomes).toMatchObject([{ outcome: 'applied' }]);
    expect(await lateFlags()).toHaveLength(1);
  });

  it('[E5] is judged by what its phone knew also where the device went to another crew', async () => {
    const phone = await openPhone();
    const { purge } = await purgeAt(phone);
    await syncOnce(phone);
    const { phone: device, event } = server.firm.ids;
    const crew = v7();
    await office.push({ kind: 'crew', id: crew, set: { name: 'Third crew' } });
    await office.push({ verb: 'amend', kind: 'device', id: device, base: { rev: 1 }, set: { crew } });
    await readingAt(phone, purge, '7.10');
    const report = await syncOnce(phone);
    expect([report.outcomes[0]?.outcome, report.dropped]).toEqual([
      'applied',
      expect.arrayContaining([`event:${event}`]),
    ]);
    expect(await lateFlags()).toHaveLength(1);
    await isSound();
  });

  it('[E6] that heard of it and writes all the same is set aside, until a coordinator releases it, without a flag', async () => {
    const phone = await openPhone();
    const { purge } = await purgeAt(phone);
    await syncOnce(phone);
    await endAssignments();
    expect((await syncOnce(phone)).dropped).toContain(`event:${server.firm.ids.event}`);
    const reading = await readingAt(phone, purge, '7.10');
    const report = await syncOnce(phone);
    expect(report).toMatchObject({ problem: null, unsent: { count: 0 } });
    expect(report.outcomes).toMatchObject([{ outcome: 'set_aside', code: 'right_missing' }]);
    expect(await phone.troubles()).toHaveLength(1);
    const id = report.outcomes[0]?.setAside ?? '';
    expect(await office.push({ verb: 'release', kind: 'set-aside', id })).toMatchObject([{ outcome: 'applied' }]);
    expect(await stateOf(reading)).toMatchObject({ by: server.firm.ids.ann, fields: { ph: '7.10' } });
    expect(await lateFlags()).toEqual([]);
    await isSound();
  });

  it('[E6] that was never assigned is set aside, and a request that is answered at once knows what there is to know', async () => {
    const { event, lone: well, shallow } = server.firm.ids;
    const crew = v7();
    const device = v7();
    await office.push(
      { kind: 'crew', id: crew, set: { name: 'Third crew' } },
      { kind: 'device', id: device, set: { label: 'Phone 3', crew } },
    );
    const stray = await openPhone(device);
    await stray.record('visit', { event, well, crew, method: 'gauging', arrived: clock.wall() });
    expect((await syncOnce(stray)).outcomes).toMatchObject([{ outcome: 'set_aside', code: 'right_missing' }]);
    const headers = { authorization: `Bearer ${await server.token('crew', server.firm.ids.phone)}` };
    const payload = { event, well: shallow, crew, method: 'gauging', arrived: clock.wall() };
    const post = () => server.app.inject({ method: 'POST', url: '/v1/visits', headers, payload });
    expect((await post()).statusCode).toBe(201);
    await endAssignments();
    const late = await post();
    expect([late.statusCode, late.json().code]).toEqual([202, 'right_missing']);
  });

  it('[E6] may write again at once where it is assigned anew, and what waits for a record is judged when it comes', async () => {
    const phone = await openPhone();
    const { event, north: crew, lone: well } = server.firm.ids;
    const { purge } = await purgeAt(phone);
    await syncOnce(phone);
    await endAssignments();
    await syncOnce(phone);
    await office.push({ kind: 'assignment', set: { event, crew, well } });
    await readingAt(phone, purge, '7.10');
    expect((await syncOnce(phone)).outcomes).toMatchObject([{ outcome: 'applied' }]);
    expect(await lateFlags()).toEqual([]);
    // a partner of another crew told of a purge that is not here yet
    const heard = v7();
    const waits = await readingAt(phone, heard, '7.30');
    expect((await syncOnce(phone)).outcomes).toMatchObject([{ outcome: 'set_aside', code: 'parent_missing' }]);
    await endAssignments();
    const visit = v7();
    const arrived = clock.wall();
    await office.push({ kind: 'visit', id: visit, set: { event, well, crew, method: 'low-flow', arrived } });
    await office.push({ kind: 'purge', id: heard, set: { visit, began: arrived } });
    expect(await stateOf(waits)).toMatchObject({ afterAssignment: { assignment: expect.any(String) } });
    expect(await lateFlags()).toHaveLength(1);
    await isSound();
  });
});
