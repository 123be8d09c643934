import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { statementsOf } from '../reads/statements.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { clock, deconDrafts, pumpedDrafts } from '../support/unit-drafts.ts';
import { ask } from './graphql/ask.ts';
import { RestClient } from './rest/rest-client.ts';

type Fields = Readonly<Record<string, unknown>>;

let t: TestApp;
let office: string;
let rest: RestClient;
const tape = v7();

async function push(drafts: readonly Draft[]): Promise<void> {
  const admin = await t.firm.client('admin');
  const outcomes = await admin.push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

/** A pump that is left uncleaned and a tape whose check is overdue, in a round that asks for rinsates. */
beforeAll(async () => {
  t = await testApp();
  office = await t.token('coordinator');
  rest = new RestClient(t, office);
  const { firm } = t;
  const { pump, lone, north, south, event } = firm.ids;
  const before = deconDrafts(firm, pump, '07:00');
  const visit = pumpedDrafts(firm, { well: lone, pump, from: '08:00', number: 'S-1' });
  const signOut = (unit: string, crew: string, from: string, until?: string): Draft => ({
    kind: 'sign-out',
    set: {
      unit,
      crew,
      event,
      from: clock(from),
      ...(until ? { until: clock(until) } : {}),
      observed: firm.observed(clock(from)),
    },
  });
  const level = { visit: visit.ids.visit, purpose: 'before-purge', state: 'measured', depthToWaterFt: '12.30' };
  const plan = { criteria: 'epa-region-1-low-stress-rev-4', equipment: { rinsatePer: 'unit-and-day' } };
  const check = { unit: tape, type: 'length-checked', result: 'pass', dueNext: '2026-04-30' };
  await push([
    { verb: 'amend', kind: 'event', id: event, base: { rev: 1 }, set: { plan } },
    { kind: 'unit', id: tape, set: { type: 'water-level-tape', label: 'Tape 1', use: 'shared', ownership: 'owned' } },
    { kind: 'unit-service', set: { ...check, observed: firm.observed(clock('01-10 09:00')) } },
    signOut(pump, south, '05-03 07:00', '05-03 18:00'),
    signOut(pump, north, '06:30'),
    ...before.drafts,
    ...visit.drafts,
    { kind: 'water-level', set: { ...level, tape, observed: firm.observed(clock('08:05')) } },
  ]);
});
afterAll(() => t.close());

const get = async (path: string, client = rest): Promise<Fields> => {
  const { status, body } = await client.get(path);
  expect([status, status === 200 ? null : body]).toEqual([200, null]);
  return body;
};

describe('units with where they stand and who has them', () => {
  it('are told in one list, and in parts that make the whole', async () => {
    const { items, next } = (await get('/equipment-status')) as { items: Fields[]; next: null };
    expect(next).toBeNull();
    expect(items).toHaveLength(5);
    const { pump, north, otherPump } = t.firm.ids;
    expect(items.find((one) => one.unit === pump)).toMatchObject({
      label: 'Pump A',
      state: 'used',
      wellName: null,
      holders: [{ crew: north, crewName: 'North crew' }],
    });
    expect(items.find((one) => one.unit === otherPump)).toMatchObject({ holders: [] });
    const parts: unknown[] = [];
    for (let cursor: unknown = null; ; ) {
      const part = (await get(`/equipment-status?limit=2${cursor ? `&cursor=${cursor}` : ''}`)) as {
        items: Fields[];
        next: string | null;
      };
      parts.push(...part.items);
      cursor = part.next;
      if (cursor === null) break;
    }
    expect(parts).toEqual(items);
  });

  it('are those of an event where one is named', async () => {
    const { items } = (await get(`/equipment-status?event=${t.firm.ids.event}`)) as { items: Fields[] };
    expect(items.map((one) => one.unit)).toEqual([t.firm.ids.pump]);
    expect((await rest.get(`/equipment-status?event=${v7()}`)).body.code).toBe('record_missing');
  });

  it('are asked of a list in as many statements as of one unit', async () => {
    const query = '{ units(first: 20) { nodes { label state { state } holders { crewName crew { name } } } } }';
    const asked = async (first: number) => {
      const { result, sent } = await statementsOf(() => ask<Fields>(t, office, query.replace('20', String(first))));
      expect(result.errors).toEqual([]);
      const count = (name: string) => sent.filter((text) => text.includes(name)).length;
      return { data: JSON.stringify(result.data), counts: [count('from unit_state'), count('from sign_out')] };
    };
    const [one, many] = [await asked(1), await asked(20)];
    expect(many.counts[0]).toBe(one.counts[0]);
    expect(many.data).toContain('"crewName":"North crew","crew":{"name":"North crew"}');
  });
});

describe('what is owed tonight', () => {
  it('is told before the records say that the day is over', async () => {
    const { event, pump } = t.firm.ids;
    const told = (await get(`/events/${event}/owed-equipment?day=2026-05-04`)) as { items: Fields[] };
    expect(told).toMatchObject({ day: '2026-05-04', timeZone: 'America/Chicago', units: 2 });
    expect(told.items.map(({ code, unit }) => [code, unit])).toEqual([
      ['rinsate-missing', pump],
      ['tape-check-overdue', tape],
      ...[pump, tape].toSorted().map((unit) => ['unit-left-uncleaned', unit]),
    ]);
    expect(told.items.find(({ code, unit }) => code === 'unit-left-uncleaned' && unit === pump)).toMatchObject({
      label: 'Pump A',
      addressee: 'tonight',
    });
    // today, where the site is
    expect(await get(`/events/${event}/owed-equipment`)).toMatchObject({ day: '2026-05-04' });
    const query = `query ($id: ID!) { event(id: $id) { owedEquipment(day: "2026-05-04") { day units items { code unitId sentence } } } }`;
    const { data } = await ask<Record<string, Fields>>(t, office, query, { id: event });
    const plain = told.items.map(({ code, unit, sentence }) => ({ code, unitId: unit, sentence }));
    expect(data.event?.owedEquipment).toEqual({ day: '2026-05-04', units: 2, items: plain });
  });

  it('is less once it is done', async () => {
    const { event, pump } = t.firm.ids;
    await push([...deconDrafts(t.firm, pump, '09:00').drafts]);
    const told = (await get(`/events/${event}/owed-equipment?day=2026-05-04`)) as { items: Fields[] };
    expect(told.items.map(({ code, unit }) => [code, unit])).toEqual([
      ['rinsate-missing', pump],
      ['tape-check-overdue', tape],
      ['unit-left-uncleaned', tape],
    ]);
    const other = (await get(`/events/${event}/owed-equipment?day=2026-05-05`)) as { items: Fields[]; units: number };
    expect([other.units, other.items]).toEqual([1, []]);
  });

  it('is nothing to whoever does not see the event', async () => {
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const client = new RestClient(t, await t.token('admin', null, other));
    expect((await client.get(`/events/${t.firm.ids.event}/owed-equipment`)).body.code).toBe('record_missing');
    expect((await client.get(`/equipment-status?event=${t.firm.ids.event}`)).body.code).toBe('record_missing');
    expect((await rest.get(`/events/${t.firm.ids.event}/owed-equipment?day=May`)).status).toBe(400);
  });
});
