import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { planSamples } from '../../src/doors/plan-samples.ts';
import { openRecords, type Records } from '../../src/store/records.ts';
import type { Actor } from '../../src/writes/batch.ts';
import type { Lane } from '../../src/writes/lane.ts';
import { serverOver, type TestApp } from '../support/test-app.ts';
import { testDatabase } from '../support/test-database.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { RestClient } from './rest/rest-client.ts';

/** As many connections as plans may be written at once: were they kept for the plans, nobody would be answered. */
const CONNECTIONS = 2;

let t: TestApp;
let records: Records;
let firms: readonly TestFirm[];
let actors: readonly Actor[];

/** A firm with something to plan. */
async function planningFirm(firm: TestFirm): Promise<TestFirm> {
  await firm.setUp();
  const { event, north, lone } = firm.ids;
  const drafts: Draft[] = [
    { kind: 'laboratory', set: { name: 'River Lab', timeZone: 'America/Chicago', receiving: [] } },
    { kind: 'analyte-suite', set: { name: 'VOC', groups: [{ group: 'volatiles' }] } },
    { kind: 'assignment', set: { event, crew: north, well: lone, suites: ['VOC'] } },
  ];
  const outcomes = await (await firm.client('admin')).push(...drafts);
  expect(outcomes.map(({ outcome }) => outcome)).toEqual(drafts.map(() => 'applied'));
  return firm;
}

beforeAll(async () => {
  const db = await testDatabase({ poolSize: CONNECTIONS });
  const made = [];
  for (let at = 0; at < 3; at += 1) made.push(await planningFirm(new TestFirm(db.pool)));
  firms = made;
  actors = await Promise.all(made.map((firm) => firm.actor('coordinator')));
  t = await serverOver(db, made[0] as TestFirm);
  records = openRecords(db.pool);
});
afterAll(async () => {
  await records.close();
  await t.close();
});

/** Plans whose batches are not written until they are let go. */
function heldPlans(many = CONNECTIONS) {
  const atTheDoor = new Set<string>();
  let [letGo, allHere] = [() => {}, () => {}];
  const held = new Promise<void>((resolve) => (letGo = resolve));
  const here = new Promise<void>((resolve) => (allHere = resolve));
  const plan = (at: number, event?: string) => {
    const [firm, actor] = [firms[at], actors[at]];
    if (!firm || !actor) throw new Error(`no firm ${at}`);
    const lane: Lane = async (batch) => {
      atTheDoor.add(firm.id);
      if (atTheDoor.size === many) allHere();
      await held;
      return firm.lane(batch);
    };
    const ctx = { pool: t.db.pool, records, lane, now: () => new Date() };
    return planSamples(ctx, actor, v7(), event ?? firm.ids.event, Math.random);
  };
  return { plan, areHeld: here, letGo };
}

describe('plans at once', () => {
  it('are two at most, one a firm; others are told at once, and while they wait everybody else is answered', async () => {
    const { plan, areHeld, letGo } = heldPlans();
    const first = Promise.all([plan(0), plan(1)]);
    await areHeld;
    const asked = await Promise.allSettled([0, 1, 2, 0, 1, 2, 0, 1, 2, 0].map((at) => plan(at)));
    expect(asked.map((one) => one.status === 'rejected' && one.reason.code)).toEqual(asked.map(() => 'busy'));
    await expect(plan(0, v7())).rejects.toMatchObject({ code: 'record_missing' });
    const office = new RestClient(t, await t.token('coordinator'));
    const read = await office.get(`/events/${firms[0]?.ids.event}/sampling-plan`);
    expect([read.status, read.body.isWritten]).toEqual([200, false]);
    letGo();
    expect((await first).map(({ plan: { isWritten }, written }) => [isWritten, written > 0])).toEqual([
      [true, true],
      [true, true],
    ]);
    // places and locks are given back
    expect((await plan(2)).plan.isWritten).toBe(true);
    expect((await plan(0)).written).toBe(0);
  });

  it('are one a firm, also of different events, while there is a place for another firm', async () => {
    const [firm] = firms;
    const office = new RestClient(t, await t.token('coordinator'));
    const { body: event } = await office.get(`/events/${firm?.ids.event}`);
    const made = await office.post('/events', { ...event.fields, name: 'Another round' });
    expect(made.status).toBe(201);
    const { plan, areHeld, letGo } = heldPlans(1);
    const { body: more } = await office.post('/assignments', {
      ...{ event: firm?.ids.event, crew: firm?.ids.north, well: firm?.ids.deep, suites: ['VOC'] },
    });
    expect(more.id).toBeDefined();
    const first = plan(0);
    await areHeld;
    await expect(plan(0, made.body.id)).rejects.toMatchObject({
      code: 'busy',
      message: expect.stringContaining('of your firm'),
    });
    letGo();
    expect((await first).written).toBeGreaterThan(0);
  });
});
