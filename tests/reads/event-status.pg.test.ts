import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { eventStatusShape } from '../../src/doors/rest/event-status.ts';
import { eventStatus } from '../../src/reads/event-status.ts';
import type { EventStatus } from '../../src/reads/event-status-result.ts';
import type { Reader } from '../../src/reads/reader.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Draft, TestClient } from '../support/test-firm.ts';
import { minute, purgeDrafts, readingDraft, visitDrafts } from '../support/visit-drafts.ts';
import { statementsOf } from './statements.ts';

let t: TestApp;
let office: TestClient;
let phone: string;
const wells: Record<string, string> = {};
const client = randomUUID();

const reader = (): Reader => ({ firm: t.firm.id, token: randomUUID(), role: 'dashboard', device: null });
const status = () => eventStatus(t.db.pool, reader(), t.firm.ids.event);
const headers = (token: string) => ({ authorization: `Bearer ${token}` });

/** As a phone pushes: with its clocks, and with what it still holds. */
async function pushFromPhone(first: number, lines: readonly (object | string)[]) {
  const wall = new Date(t.firm.nowMs - 4_000).toISOString();
  const pending = { count: 3, oldest: minute(30) };
  const header = {
    client,
    schemaVersion: 1,
    first,
    count: lines.length,
    sent: { wall, monotonicMs: 5, boot: 'b' },
    pending,
  };
  const text = (line: object | string) => (typeof line === 'string' ? line : JSON.stringify(line));
  const payload = `${[header, ...lines].map(text).join('\n')}\n`;
  const response = await t.app.inject({
    method: 'POST',
    url: '/v1/sync/push',
    headers: { ...headers(phone), 'content-type': 'application/x-ndjson' },
    payload,
  });
  return response.json().outcomes.map((one: { outcome: string }) => one.outcome);
}

async function planWells(names: readonly string[]): Promise<void> {
  const { site, event, north } = t.firm.ids;
  for (const name of names) wells[name] = v7();
  const set = (name: string) => ({ site, name, standing: 'in-service', depthsFrom: 'measuring-point' });
  await office.push(...names.map((name): Draft => ({ kind: 'well', id: wells[name] ?? '', set: set(name) })));
  const planned = names.filter((name) => name !== 'U-1');
  await office.push(
    ...planned.map((name): Draft => {
      return { kind: 'assignment', set: { event, crew: north, well: wells[name], suites: ['metals'] } };
    }),
  );
}

beforeAll(async () => {
  t = await testApp();
  const { firm } = t;
  office = await firm.client('coordinator');
  phone = await t.token('crew', firm.ids.phone);
  await planWells(['P-1', 'P-2', 'P-3', 'P-4', 'P-5', 'P-6', 'U-1']);
  const crew = await firm.client('crew', firm.ids.phone);
  const at = (name: string, more: object = {}) => ({ well: wells[name], ...more });
  const purging = visitDrafts(firm, at('P-1'));
  const stable = purgeDrafts(firm, at('P-2'));
  const sampled = purgeDrafts(firm, at('P-3', { outcome: 'sampled', left: minute(90) }));
  const sample = { visit: sampled.ids.visit, number: 'S-1', suites: ['metals'], collected: minute(40) };
  const gauged = visitDrafts(firm, at('P-4', { method: 'gauging' })).drafts.slice(0, 1);
  const dry = at('P-5', { outcome: 'dry', outcomeReason: 'no water at 40 ft', left: minute(5) });
  await crew.push(
    ...purging.drafts,
    readingDraft(firm, purging.ids.purge, 5),
    ...stable.drafts,
    ...sampled.drafts,
    { kind: 'sample', set: sample },
    ...gauged,
    ...visitDrafts(firm, dry).drafts.slice(0, 1),
    ...visitDrafts(firm, at('U-1')).drafts.slice(0, 1),
  );
  const { event, south, shallow } = firm.ids;
  const claim = { event, well: shallow, crew: south, from: minute(10), observed: firm.observed(minute(10)) };
  await (await firm.client('crew', firm.ids.otherPhone)).push({ kind: 'well-claim', set: claim });
}, 120_000);
afterAll(() => t.close());

function standingOf(answer: EventStatus, name: string) {
  const { standing, since, outcome, outcomeReason, planned, samples } =
    answer.wells.find((well) => well.name === name) ?? ({} as never);
  return { standing, since, outcome, outcomeReason, planned, samples };
}

const open = { outcome: null, outcomeReason: null, planned: true, samples: 0 };

describe('how an event stands', () => {
  it('tells where each well stands, since when and why', async () => {
    const answer = await status();
    expect(standingOf(answer, 'P-1')).toEqual({ ...open, standing: 'purging', since: '2026-05-04T10:00:00Z' });
    expect(standingOf(answer, 'P-2')).toEqual({ ...open, standing: 'stable', since: '2026-05-04T10:15:00Z' });
    expect(standingOf(answer, 'P-3')).toEqual({
      ...open,
      standing: 'sampled',
      since: '2026-05-04T10:40:00Z',
      outcome: 'sampled',
      samples: 1,
    });
    expect(standingOf(answer, 'P-4')).toEqual({ ...open, standing: 'gauging', since: '2026-05-04T09:30:00Z' });
    expect(standingOf(answer, 'P-5')).toEqual({
      ...open,
      standing: 'ended',
      since: '2026-05-04T10:05:00Z',
      outcome: 'dry',
      outcomeReason: 'no water at 40 ft',
    });
    expect(standingOf(answer, 'P-6')).toEqual({ ...open, standing: 'not-started', since: null });
    expect(standingOf(answer, 'U-1')).toMatchObject({ planned: false, standing: 'gauging' });
    expect(standingOf(answer, 'W-4S')).toMatchObject({ standing: 'claimed', since: '2026-05-04T10:10:00Z' });
  });

  it('names the crews: who was assigned, who is at work, who holds the claim', async () => {
    const { wells: list } = await status();
    const { north, south } = t.firm.ids;
    const claimed = list.find((well) => well.name === 'W-4S');
    expect(claimed).toMatchObject({ crew: { id: south, name: 'South crew' }, claimedBy: [{ id: south }] });
    expect(list.find((well) => well.name === 'P-1')).toMatchObject({
      assignedTo: [{ id: north, name: 'North crew' }],
      crew: { id: north },
      claimedBy: [],
    });
  });

  it('adds up', async () => {
    const { totals } = await status();
    expect(totals.wells).toEqual({
      planned: 8,
      unplanned: 1,
      notStarted: 2,
      claimed: 1,
      gauging: 2,
      purging: 1,
      stable: 1,
      sampled: 1,
      ended: 1,
    });
    expect(totals).toMatchObject({ visits: 6, samples: 1, openConflicts: 0 });
  });

  it('counts the flags that stand in the feed of the event', async () => {
    const visits = visitDrafts(t.firm, { well: wells['P-6'], outcome: 'sampled' });
    await office.push(...visits.drafts.slice(0, 1));
    const feed = await t.app.inject({
      url: `/v1/sync/feeds/event:${t.firm.ids.event}/rows`,
      headers: headers(await t.token('dashboard')),
    });
    const rows = feed.json().rows as { record?: { kind: string; fields: Record<string, unknown> } }[];
    const raised = rows.flatMap(({ record }) =>
      record?.kind === 'flag' && record.fields.standing === 'raised' ? [record.fields] : [],
    );
    expect(raised.length).toBeGreaterThan(0);
    const answer = await status();
    expect(answer.totals.openFlags).toBe(raised.length);
    for (const { addressee, severity, count } of answer.flags) {
      const same = raised.filter((flag) => flag.addressee === addressee && flag.severity === severity);
      expect([addressee, severity, same.length]).toEqual([addressee, severity, count]);
    }
    expect(answer.flags.reduce((sum, one) => sum + one.count, 0)).toBe(raised.length);
    const ofWell = raised.filter((flag) => flag.well === wells['P-6']).length;
    expect(answer.wells.find((well) => well.name === 'P-6')?.openFlags).toBe(ofWell);
  });

  it('counts the conflicts that are open, by type and certainty', async () => {
    const drafts = visitDrafts(t.firm, { well: wells['P-4'] });
    await office.push(...drafts.drafts.slice(0, 1));
    const one = { kind: 'visit', id: drafts.ids.visit, verb: 'amend', base: { rev: 1 } };
    await office.push({ ...one, set: { outcome: 'no-access' } });
    const [kept] = await (await t.firm.client('crew', t.firm.ids.phone)).push({ ...one, set: { outcome: 'frozen' } });
    expect(kept?.outcome).toBe('conflict_kept');
    const before = await status();
    expect(before.conflicts).toEqual([{ type: 'field', certainty: 'certain', count: 1 }]);
    expect(before.totals.openConflicts).toBe(1);
    const [conflict] = kept?.conflicts ?? [];
    const resolve = { verb: 'resolve', kind: 'conflict', id: conflict ?? '', base: { rev: 1 } };
    await office.push({ ...resolve, set: { value: 'frozen' } });
    expect((await status()).conflicts).toEqual([]);
  });

  it('tells when a crew was last in touch, what it held back, how far its clock was off, and what was set aside', async () => {
    t.firm.nowMs += 60_000;
    const purge = v7();
    const waits = { ...readingDraft(t.firm, purge, 5), mutationId: 1, verb: 'record' };
    const nothing = { mutationId: 3, verb: 'amend', kind: 'visit', id: v7(), set: {}, requires: [] };
    const refused = { ...nothing, id: t.firm.ids.lone };
    expect(await pushFromPhone(1, [waits, 'not json', refused])).toEqual(['set_aside', 'set_aside', 'refused']);
    const pushed = new Date(t.firm.nowMs).toISOString();
    t.firm.nowMs += 60_000;
    const pulled = new Date(t.firm.nowMs).toISOString();
    await t.app.inject({ url: `/v1/sync/feeds?client=${client}`, headers: headers(phone) });
    const { crews, totals } = await status();
    const north = crews.find((crew) => crew.id === t.firm.ids.north);
    const setAside = { waiting: 1, forAPerson: 1, refused: 1 };
    expect(north).toMatchObject({ name: 'North crew', unsentCount: 3, clockDifferenceMs: 4_000, setAside });
    expect(Date.parse(north?.lastPush ?? '')).toBe(Date.parse(pushed));
    expect(Date.parse(north?.lastPull ?? '')).toBe(Date.parse(pulled));
    expect(north?.unsentOldest).toBe('2026-05-04T10:30:00Z');
    expect(north?.devices).toMatchObject([{ id: t.firm.ids.phone, label: 'Phone 1', unsentCount: 3, setAside }]);
    expect(totals).toMatchObject({ unsent: 3, setAside });
    const south = crews.find((crew) => crew.id === t.firm.ids.south);
    expect(south).toMatchObject({ setAside: { waiting: 0, forAPerson: 0, refused: 0 } });
  });

  it('leaves out what was voided', async () => {
    const drafts = purgeDrafts(t.firm, { well: wells['U-1'], arrived: minute(5) });
    const taken = await office.push(...drafts.drafts);
    expect(standingOf(await status(), 'U-1')).toMatchObject({ standing: 'stable' });
    const [visit] = taken;
    await office.push({ verb: 'void', kind: 'visit', id: visit?.id ?? '', base: { rev: 1 }, reason: 'wrong well' });
    expect(standingOf(await status(), 'U-1')).toMatchObject({ standing: 'gauging' });
  });

  it('is the same through REST, in the form that is documented', async () => {
    const token = await t.token('coordinator');
    const response = await t.app.inject({ url: `/v1/events/${t.firm.ids.event}/status`, headers: headers(token) });
    expect(response.statusCode).toBe(200);
    expect(eventStatusShape.parse(response.json())).toEqual(await status());
  });

  it('is asked of the database in as many statements for many wells as for few', async () => {
    const before = (await statementsOf(status)).sent.length;
    await planWells(Array.from({ length: 40 }, (_, index) => `Q-${index}`));
    const { result, sent } = await statementsOf(status);
    expect(result.wells.length).toBeGreaterThan(48);
    expect(sent.length).toBe(before);
    expect(sent.length).toBeLessThanOrEqual(8);
  });

  it('is there for a crew that follows the event, and for no other', async () => {
    const crew = (device: string | null): Reader => ({ ...reader(), role: 'crew', device });
    const ask = (one: Reader) => eventStatus(t.db.pool, one, t.firm.ids.event);
    expect((await ask(crew(t.firm.ids.phone))).event.name).toBe('Spring round');
    await expect(ask(crew(null))).rejects.toMatchObject({ code: 'record_missing' });
    await expect(ask({ ...reader(), firm: randomUUID() })).rejects.toMatchObject({ code: 'record_missing' });
    await expect(eventStatus(t.db.pool, reader(), randomUUID())).rejects.toMatchObject({ code: 'record_missing' });
  });
});
