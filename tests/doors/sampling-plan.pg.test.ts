import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { graphSchema } from '../../src/doors/graphql/schema.ts';
import { planSamples } from '../../src/doors/plan-samples.ts';
import type { SamplingPlanTold } from '../../src/rules/sampling-plan/plan-told.ts';
import { openRecords } from '../../src/store/records.ts';
import type { Lane } from '../../src/writes/lane.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { ask } from './graphql/ask.ts';
import { asAnswered, everything } from './graphql/graph-values.ts';
import { graphql } from './graphql/graphql-of-mercurius.ts';
import { RestClient } from './rest/rest-client.ts';

let t: TestApp;
let office: RestClient;
let crew: RestClient;
let officeToken: string;
const laboratory = v7();
const big = { event: v7(), wells: Array.from({ length: 200 }, () => v7()) };
const SUITES: Readonly<Record<string, readonly string[]>> = {
  VOC: ['volatiles'],
  SVOC: ['semivolatiles'],
  Metals: ['metals-total'],
  PFAS: ['pfas-1633'],
  Nutrients: ['ammonia', 'nitrate-plus-nitrite'],
  Ions: ['chloride', 'sulfate', 'nitrate'],
};

async function push(drafts: readonly Draft[]): Promise<void> {
  const admin = await t.firm.client('admin');
  for (let at = 0; at < drafts.length; at += 200) {
    const outcomes = await admin.push(...drafts.slice(at, at + 200));
    expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
  }
}

beforeAll(async () => {
  t = await testApp();
  const { event, lone, shallow, north, south, site } = t.firm.ids;
  officeToken = await t.token('coordinator');
  [office, crew] = [new RestClient(t, officeToken), new RestClient(t, await t.token('crew', t.firm.ids.phone))];
  const assigned = (well: string, of: string, its = event): Draft => ({
    kind: 'assignment',
    set: { event: its, crew: of, well, suites: its === event ? ['VOC', 'Metals'] : Object.keys(SUITES) },
  });
  const plan = { criteria: 'epa-region-1-low-stress-rev-4', equipment: { rinsatePer: 'unit-and-day' } };
  const dates = { starts: '2026-06-01', ends: '2026-06-05', standing: 'planned' };
  const well = (id: string, at: number): Draft => {
    const fields = { site, name: `B-${at}`, standing: 'in-service', depthsFrom: 'ground' };
    return { kind: 'well', id, set: fields };
  };
  await push([
    { kind: 'laboratory', id: laboratory, set: { name: 'River Lab', timeZone: 'America/Chicago', receiving: [] } },
    ...Object.entries(SUITES).map(([name, groups]): Draft => {
      return { kind: 'analyte-suite', set: { name, groups: groups.map((group) => ({ group })) } };
    }),
    assigned(lone, north),
    assigned(shallow, south),
    { kind: 'event', id: big.event, set: { site, name: 'Big round', ...dates, plan } },
    ...big.wells.map((id, at) => well(id, at + 1)),
    ...big.wells.map((id, at) => assigned(id, at % 2 ? north : south, big.event)),
  ]);
});
afterAll(() => t.close());

/** A field of the event as GraphQL tells it, in the form of REST. */
async function byGraph(event: string, field: string, args = ''): Promise<unknown> {
  const of = graphSchema().getType('Event');
  const type = graphql.isObjectType(of) ? of.getFields()[field]?.type : undefined;
  if (type === undefined) throw new Error(`an event has no field ${field}`);
  const query = `query ($id: ID!) { event(id: $id) { ${field}${args} ${everything(type)} } }`;
  const { data, errors } = await ask<{ event: Record<string, unknown> }>(t, officeToken, query, { id: event });
  expect(errors).toEqual([]);
  return asAnswered(data.event[field], type);
}

const address = (event: string) => `/events/${event}/sampling-plan`;

function normals(plan: SamplingPlanTold) {
  return plan.samples.filter(({ type }) => type === 'normal');
}

describe('the samples of an event', () => {
  it('are proposed without numbers, and with what is asked for', async () => {
    const { status, body } = await crew.get(address(t.firm.ids.event));
    expect(status).toBe(200);
    expect(normals(body).map(({ number, change, suites }) => [number, change, suites])).toEqual(
      Array(2).fill([null, 'new', ['VOC', 'Metals']]),
    );
    expect(body.isWritten).toBe(false);
    expect(body.bottleOrder[0]).toMatchObject({ laboratory, laboratoryName: 'River Lab' });
  });

  it('are the same through GraphQL', async () => {
    const { body } = await office.get(address(t.firm.ids.event));
    expect(await byGraph(t.firm.ids.event, 'samplingPlan')).toEqual(body);
  });

  it('are planned by the office alone, once for one key, and then nothing is left to plan', async () => {
    const to = address(t.firm.ids.event);
    expect((await crew.post(to, {})).status).toBe(403);
    const first = await office.post(to, {}, { 'idempotency-key': 'plan-1' });
    expect([first.status, first.headers['idempotent-replay']]).toEqual([200, undefined]);
    const again = await office.post(to, {}, { 'idempotency-key': 'plan-1' });
    expect([again.status, again.headers['idempotent-replay']]).toEqual([200, 'true']);
    expect(again.body).toEqual({ written: first.body.written, plan: again.body.plan });
    expect(again.body.plan).toEqual(first.body.plan);
    expect((await office.get(to)).body.isWritten).toBe(true);
    const other = await office.post(to, undefined, { 'idempotency-key': 'plan-2' });
    expect([other.status, other.body.written]).toEqual([200, 0]);
    const stored = await office.get(`/planned-samples?event=${t.firm.ids.event}&limit=200`);
    expect(stored.body.items.length).toBe(first.body.plan.samples.length);
  });

  it('a key that named another request is refused', async () => {
    await office.post('/crews', { name: 'East crew' }, { 'idempotency-key': 'a crew' });
    const { status, body } = await office.post(address(t.firm.ids.event), {}, { 'idempotency-key': 'a crew' });
    expect([status, body.code]).toEqual([422, 'key_reused']);
  });

  it('keep their numbers when a well drops out, and what hangs on it is dropped with a reason', async () => {
    const { event, shallow, lone } = t.firm.ids;
    const before = (await office.get(address(event))).body as SamplingPlanTold;
    const { body: list } = await office.get(`/assignments?event=${event}&limit=200`);
    const its = list.items.filter((one: { fields: { well?: string } }) => one.fields.well === shallow);
    for (const { id } of its) await office.post(`/assignments/${id}/void`, { reason: 'no access this year' });
    const { body } = await office.post(address(event), {});
    const after = body.plan as SamplingPlanTold;
    const numbers = (plan: SamplingPlanTold) => new Map(plan.samples.map(({ planned, number }) => [planned, number]));
    for (const [id, number] of numbers(before)) expect(numbers(after).get(id)).toBe(number);
    const [gone] = normals(after).filter(({ well }) => well === shallow);
    expect(gone).toMatchObject({
      standing: 'dropped',
      droppedBecause: 'By the plan: W-4S is not among the wells of the event any more',
    });
    expect(
      normals(after)
        .filter(({ standing }) => standing === 'planned')
        .map(({ well }) => well),
    ).toEqual([lone]);
  });

  it('are not planned while a suite is named that is not there', async () => {
    const { event, deep, north } = t.firm.ids;
    const id = v7();
    await push([{ kind: 'assignment', id, set: { event, crew: north, well: deep, suites: ['Dioxin'] } }]);
    const { status, body } = await office.post(address(event), {});
    expect([status, body.code]).toEqual([422, 'unreadable_record']);
    expect(body.detail).toContain('The suite "Dioxin", named at well W-4D, is not there');
    expect((await office.get(address(event))).body.problems).toHaveLength(1);
    await office.post(`/assignments/${id}/void`, { reason: 'typed by mistake' });
  });

  it('of 200 wells with 6 suites are written in batches that fit, and planned twice at once are planned once', async () => {
    const begun = performance.now();
    const both = await Promise.all([
      office.post(address(big.event), {}, { 'idempotency-key': 'big-1' }),
      office.post(address(big.event), {}, { 'idempotency-key': 'big-2' }),
    ]);
    const ms = performance.now() - begun;
    const done = both.find(({ status }) => status === 200);
    expect(both.map(({ status }) => status).toSorted(), JSON.stringify(both.map(({ body }) => body.detail))).toEqual([
      200, 503,
    ]);
    const records = done?.body.written as number;
    expect(records).toBeGreaterThan(2_500);
    const { body } = await office.get(address(big.event));
    expect([body.isWritten, normals(body).length]).toEqual([true, 200]);
    expect(body.samples.filter(({ type }: { type: string }) => type === 'blind-duplicate')).toHaveLength(20);
    const given = body.samples.map(({ number }: { number: string }) => number);
    expect(new Set(given).size).toBe(given.length);
    expect(ms).toBeLessThan(60_000);
  });
});

describe('a plan that is cut short', () => {
  it('goes on with the same key where it was, and is the whole plan then', async () => {
    const { site, north } = t.firm.ids;
    const event = v7();
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const dates = { starts: '2026-07-01', ends: '2026-07-01', standing: 'planned' };
    await push([
      { kind: 'event', id: event, set: { site, name: 'Summer', ...dates, plan } },
      ...big.wells.slice(0, 120).map((well): Draft => {
        return { kind: 'assignment', set: { event, crew: north, well, suites: Object.keys(SUITES) } };
      }),
    ]);
    const records = openRecords(t.db.pool);
    const actor = await t.firm.actor('coordinator');
    let batches = 0;
    const lane: Lane = (batch) => {
      batches += 1;
      if (batches > 2) throw new Error('the process ended');
      return t.firm.lane(batch);
    };
    const ctx = { pool: t.db.pool, records, lane, now: () => new Date() };
    await expect(planSamples(ctx, actor, 'cut', event, Math.random)).rejects.toThrow('the process ended');
    const between = (await office.get(address(event))).body as SamplingPlanTold;
    const given = between.samples.filter(({ number }) => number !== null);
    expect([between.isWritten, given.length > 10, given.length < 120]).toEqual([false, true, true]);
    const {
      written,
      repeated,
      plan: now,
    } = await planSamples({ ...ctx, lane: t.firm.lane }, actor, 'cut', event, Math.random);
    const numbers = new Map(now.samples.map(({ planned, number }) => [planned, number]));
    for (const { planned, number } of given) expect(numbers.get(planned)).toBe(number);
    const containers = now.samples.flatMap((one) => one.containers).reduce((sum, { count }) => sum + count, 0);
    expect([now.isWritten, repeated, written]).toEqual([true, false, now.samples.length + containers]);
    await records.close();
  });
});

describe('what QC is owed', () => {
  it('at the well, through both doors, for every role of the firm', async () => {
    const { event, lone, north } = t.firm.ids;
    const { body } = await office.get(address(event));
    const [planned] = normals(body).filter(({ standing }) => standing === 'planned');
    const visit = v7();
    const arrived = '2026-05-04T10:00:00-05:00';
    const collected = '2026-05-04T11:00:00-05:00';
    const sample = { visit, number: planned?.number, planned: planned?.planned, suites: ['VOC', 'Metals'], collected };
    await push([
      { kind: 'visit', id: visit, set: { event, well: lone, crew: north, method: 'low-flow', arrived } },
      { kind: 'sample', set: sample },
    ]);
    const to = `/events/${event}/owed-qc?well=${lone}&crew=${north}`;
    const told = await crew.get(to);
    expect(told.status).toBe(200);
    const [duplicate] = told.body.types;
    expect(duplicate).toMatchObject({ type: 'duplicate', done: 0, owedNow: 1, toCome: 1 });
    expect(told.body.wells.map(({ name }: { name: string }) => name)).toEqual(['W-1', 'W-1']);
    expect(told.body.here.sentence).toContain('At W-1 may be taken. duplicate: fair');
    expect(told.body.types.find(({ type }: { type: string }) => type === 'field-blank').missing).toEqual([
      'on 2026-05-04, for VOC',
    ]);
    for (const role of ['dashboard', 'coordinator'] as const)
      expect((await new RestClient(t, await t.token(role)).get(to)).body).toEqual(told.body);
    expect(await byGraph(event, 'owedQc', `(well: "${lone}", crew: "${north}")`)).toEqual(told.body);
  });

  it('is of an event, a well and a crew of the firm', async () => {
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const stranger = new RestClient(t, await t.token('coordinator', null, other));
    const { event } = t.firm.ids;
    for (const to of [address(event), `/events/${event}/owed-qc`])
      expect((await stranger.get(to)).body.code).toBe('record_missing');
    expect((await stranger.post(address(event), {})).body.code).toBe('record_missing');
    for (const given of [`well=${other.ids.lone}`, `crew=${other.ids.north}`])
      expect((await office.get(`/events/${event}/owed-qc?${given}`)).body.code).toBe('record_missing');
  });
});
