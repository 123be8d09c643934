import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { statementsOf } from '../reads/statements.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { clock, deconDrafts, pumpedDrafts, resultDraft } from '../support/unit-drafts.ts';
import { ask } from './graphql/ask.ts';
import { RestClient } from './rest/rest-client.ts';

type Fields = Readonly<Record<string, unknown>>;
interface Plan {
  readonly wells: readonly Fields[];
  readonly steps: readonly Fields[];
  readonly deviations: readonly Fields[];
  readonly done: readonly Fields[];
  readonly units: readonly Fields[];
  readonly problems: readonly string[];
  readonly notes: readonly string[];
}

let t: TestApp;
let office: string;
let crewToken: string;
let rest: RestClient;
const earlier = v7();
const own = v7();

async function push(drafts: readonly Draft[]): Promise<void> {
  const admin = await t.firm.client('admin');
  const outcomes = await admin.push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

/** Last round: 400 µg/L in the lone well, 1 in the shallow one; of the deep one the office says that it is clean. */
beforeAll(async () => {
  t = await testApp();
  office = await t.token('coordinator');
  crewToken = await t.token('crew', t.firm.ids.phone);
  rest = new RestClient(t, office);
  const { firm } = t;
  const { pump, otherPump, lone, shallow, deep, north, event, site } = firm.ids;
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const dates = { starts: '2026-04-01', ends: '2026-04-01', standing: 'closed' };
  const at = (well: string, from: string, number: string) =>
    pumpedDrafts(firm, { well, pump: otherPump, from, number, event: earlier });
  const [dirty, low] = [at(lone, '04-01 09:00', 'L-1'), at(shallow, '04-01 11:00', 'L-2')];
  const assigned = (well: string): Draft => ({ kind: 'assignment', set: { event, crew: north, well } });
  await push([
    { kind: 'event', id: earlier, set: { site, name: 'Last round', ...dates, plan } },
    ...dirty.drafts,
    ...low.drafts,
    resultDraft(firm, { sample: dirty.ids.sample }, '400', earlier),
    resultDraft(firm, { sample: low.ids.sample }, '1', earlier),
    { verb: 'amend', kind: 'well', id: deep, base: { rev: 1 }, set: { assignedClass: 'clean' } },
    assigned(shallow),
    assigned(deep),
    {
      kind: 'sign-out',
      set: { unit: pump, crew: north, event, from: clock('06:30'), observed: firm.observed(clock('06:30')) },
    },
  ]);
});
afterAll(() => t.close());

async function planned(query = '', client = rest): Promise<Plan> {
  const { north, event } = t.firm.ids;
  const { status, body } = await client.get(`/events/${event}/day-plan?day=2026-05-04&crew=${north}${query}`);
  expect([status, status === 200 ? null : body]).toEqual([200, null]);
  return body;
}

describe('the day of a crew', () => {
  it('goes from the least to the most contaminated well, with a decon before the first and after each', async () => {
    const plan = await planned();
    expect(plan.wells.map(({ name, class: of, isAssigned }) => [name, of, isAssigned])).toEqual([
      ['W-4D', 'clean', true],
      ['W-4S', 'low', false],
      ['W-1', 'high', false],
    ]);
    expect(plan.steps.map(({ step, name }) => `${step} ${name}`)).toEqual([
      'decon Pump A',
      'well W-4D',
      'decon Pump A',
      'well W-4S',
      'decon Pump A',
      'well W-1',
      'decon Pump A',
    ]);
    expect(plan).toMatchObject({ done: [], deviations: [], problems: [], notes: [], timeZone: 'America/Chicago' });
    expect(plan.units).toMatchObject([{ label: 'Pump A', state: 'unknown' }]);
  });

  it('is the same by GraphQL, and for a crew that asks without naming itself', async () => {
    const { event, north } = t.firm.ids;
    const plan = await planned();
    const client = new RestClient(t, crewToken);
    expect((await client.get(`/events/${event}/day-plan?day=2026-05-04`)).body).toEqual(plan);
    const query = `query ($id: ID!, $crew: ID) { event(id: $id) { dayPlan(day: "2026-05-04", crew: $crew) {
      crewId wells { wellId name units well { name } } steps { step name why } } } }`;
    const { data, errors } = await ask<Record<string, { dayPlan: Fields }>>(t, office, query, {
      id: event,
      crew: north,
    });
    expect(errors).toEqual([]);
    expect(data.event?.dayPlan).toEqual({
      crewId: north,
      wells: plan.wells.map(({ well, name, units }) => ({ wellId: well, name, units, well: { name } })),
      steps: plan.steps.map(({ step, name, why }) => ({ step: String(step).toUpperCase(), name, why })),
    });
  });

  it('leaves a well with its own pump where it is, and asks for no decon there', async () => {
    const set = { type: 'bladder-pump', label: 'Pump of W-1', use: 'dedicated', ownership: 'owned' };
    await push([{ kind: 'unit', id: own, set: { ...set, dedicatedTo: t.firm.ids.lone } }]);
    const plan = await planned();
    expect(plan.wells.find(({ name }) => name === 'W-1')).toMatchObject({ units: [own] });
    expect(plan.steps.filter(({ name }) => name === 'Pump of W-1')).toEqual([]);
    const admin = await t.firm.client('admin');
    await admin.push({ verb: 'void', kind: 'unit', id: own, base: { rev: 1 }, reason: 'sold' });
  });

  it('tells where the crew went from dirty to clean so far, and plans what is left', async () => {
    const { firm } = t;
    const { pump, lone, shallow } = firm.ids;
    await push([
      ...pumpedDrafts(firm, { well: lone, pump, from: '08:00', number: 'S-1' }).drafts,
      ...deconDrafts(firm, pump, '08:40').drafts,
      ...pumpedDrafts(firm, { well: shallow, pump, from: '10:00', number: 'S-2' }).drafts,
    ]);
    const plan = await planned();
    expect(plan.wells.map(({ name }) => name)).toEqual(['W-4D']);
    expect(plan.done.map(({ name }) => name)).toEqual(['W-1', 'W-4S']);
    expect(plan.deviations).toMatchObject([{ well: shallow, after: lone, shared: [pump], by: 'results' }]);
    expect(String(plan.deviations[0]?.sentence)).toContain('W-4S comes after W-1 with the same Pump A');
    // what was found later says nothing of what the crew could know
    expect(
      (await rest.get(`/events/${firm.ids.event}/day-plan?day=2026-05-05&crew=${firm.ids.north}`)).body,
    ).toMatchObject({ done: [], deviations: [] });
  });

  it('asks about no deviation behind which a blank was taken, before it failed', async () => {
    const { firm } = t;
    const blank = v7();
    const set = { event: firm.ids.event, type: 'equipment', number: 'EB-1', unit: firm.ids.pump, suites: ['VOC'] };
    await push([{ kind: 'blank', id: blank, set: { ...set, collected: clock('09:30') } }]);
    expect((await planned()).deviations).toEqual([]);
    await push([resultDraft(firm, { blank }, '0.8')]);
    expect((await planned()).deviations).toHaveLength(1);
  });

  it('comes back to a well that is to be sampled, though its level was read or nobody could get to it', async () => {
    const { event, site, north } = t.firm.ids;
    const crew = v7();
    const wells = ['Y-gauged', 'Y-locked', 'Y-level', 'Y-dry'].map((name) => ({ name, id: v7() }));
    const ended = [
      { method: 'gauging', outcome: 'gauged-only' },
      { method: 'low-flow', outcome: 'no-access' },
      { method: 'gauging', outcome: 'gauged-only' },
      { method: 'low-flow', outcome: 'dry' },
    ];
    await push([
      { kind: 'crew', id: crew, set: { name: 'Round crew' } },
      ...wells.flatMap(({ id, name }, at): Draft[] => [
        { kind: 'well', id, set: { site, name, standing: 'in-service', depthsFrom: 'measuring-point' } },
        {
          kind: 'assignment',
          set: { event, crew, well: id, ...(name === 'Y-level' ? {} : { suites: ['VOC'] }) },
        },
        {
          kind: 'visit',
          set: {
            event,
            well: id,
            crew: north,
            arrived: clock('05-03 09:00'),
            left: clock('05-03 09:10'),
            ...ended[at],
          },
        },
      ]),
    ]);
    const asked = async (what: string) =>
      (await rest.get(`/events/${event}/${what}?day=2026-05-04&crew=${crew}`)).body.wells.map(
        ({ name }: Fields) => name,
      );
    expect(await asked('day-plan')).toEqual(['Y-gauged', 'Y-locked']);
    expect(await asked('kit')).toEqual(['Y-gauged', 'Y-locked']);
  });

  it('has the wells of the site that no other crew has, where its assignment names none', async () => {
    const { event, site } = t.firm.ids;
    const [crew, free, closed] = [v7(), v7(), v7()];
    const set = { site, depthsFrom: 'measuring-point' };
    await push([
      { kind: 'crew', id: crew, set: { name: 'Whole site' } },
      { kind: 'assignment', set: { event, crew, suites: ['VOC'] } },
      { kind: 'well', id: free, set: { ...set, name: 'Z-free', standing: 'in-service' } },
      { kind: 'well', id: closed, set: { ...set, name: 'Z-closed', standing: 'decommissioned' } },
    ]);
    const about = `day=2026-05-04&crew=${crew}`;
    const { body } = await rest.get(`/events/${event}/day-plan?${about}`);
    const names = body.wells.map(({ name }: Fields) => name);
    expect(names).toContain('Z-free');
    for (const other of ['Z-closed', 'W-4D', 'W-4S', 'Y-gauged']) expect(names).not.toContain(other);
    expect(body.notes[0]).toContain('No assignment of this crew names a well');
    const kit = (await rest.get(`/events/${event}/kit?${about}`)).body;
    expect(kit.wells.find(({ name }: Fields) => name === 'Z-free')).toMatchObject({ suites: ['VOC'] });
  });

  it('takes as many statements whatever the number of wells', async () => {
    const { event, site, south } = t.firm.ids;
    const address = `/events/${event}/day-plan?day=2026-05-04&crew=${south}`;
    const sent = async () =>
      (await statementsOf(() => rest.get(address))).sent.filter((text) => !text.includes('from token t where t.hash'));
    const few = (await sent()).length;
    const wells = Array.from({ length: 30 }, () => v7());
    const set = { site, standing: 'in-service', depthsFrom: 'measuring-point' };
    await push([
      ...wells.map((id, at): Draft => ({ kind: 'well', id, set: { ...set, name: `X-${at}` } })),
      ...wells.map((well): Draft => ({ kind: 'assignment', set: { event, crew: south, well } })),
    ]);
    expect((await sent()).length).toBe(few);
    expect(few).toBeLessThanOrEqual(11);
    const { body } = await rest.get(address);
    // the shallow well was done by the other crew
    expect(body.wells).toHaveLength(30);
  });

  it('is refused where no crew is named, or nothing may be seen', async () => {
    const { event } = t.firm.ids;
    expect((await rest.get(`/events/${event}/day-plan`)).body).toMatchObject({ code: 'bad_request', pointer: '/crew' });
    expect((await rest.get(`/events/${event}/day-plan?crew=${v7()}`)).body.code).toBe('record_missing');
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const client = new RestClient(t, await t.token('admin', null, other));
    expect((await client.get(`/events/${event}/day-plan?crew=${other.ids.north}`)).body.code).toBe('record_missing');
  });
});
