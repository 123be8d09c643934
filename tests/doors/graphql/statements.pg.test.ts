import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { statementsOf } from '../../reads/statements.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import type { Draft } from '../../support/test-firm.ts';
import { minute, purgeDrafts } from '../../support/visit-drafts.ts';
import { ask } from './ask.ts';

const MANY = 100;

let t: TestApp;
let token: string;
let fewEvent: string;
let manyEvent: string;

/** A visit with something of everything under it. */
function full(event: string, number: number): Draft[] {
  const { ids, drafts } = purgeDrafts(t.firm, { event, outcome: 'sampled' });
  const { visit, purge } = ids;
  const observed = t.firm.observed(minute(25));
  return [
    ...drafts,
    { kind: 'call', set: { purge, decision: 'stable', observed } },
    { kind: 'occurrence', set: { purge, type: 'air-in-line', observed } },
    { kind: 'water-level', set: { visit, purpose: 'final', state: 'measured', depthToWaterFt: '21.1', observed } },
    { kind: 'pump-set-up', set: { visit, pump: t.firm.ids.pump, intakeDepthFt: '35', observed } },
    { kind: 'sounding', set: { visit, depthToBottomFt: '39.9', observed } },
    { kind: 'sample', set: { visit, number: `S-${number}`, suites: ['metals'], collected: minute(26) } },
  ];
}

async function newEvent(visits: number): Promise<string> {
  const office = await t.firm.client('coordinator');
  const event = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const { site, north, lone } = t.firm.ids;
  const set = { site, name: `Round of ${visits}`, starts: '2026-05-04', ends: '2026-05-05', standing: 'open', plan };
  await office.push({ kind: 'event', id: event, set });
  await office.push({ kind: 'assignment', set: { event, crew: north, well: lone } });
  for (let visit = 0; visit < visits; visit += 10) {
    const drafts = Array.from({ length: Math.min(10, visits - visit) }, (_, index) => full(event, visit + index));
    await office.push(...drafts.flat());
  }
  return event;
}

beforeAll(async () => {
  t = await testApp();
  token = await t.token('coordinator');
  fewEvent = await newEvent(1);
  manyEvent = await newEvent(MANY);
}, 180_000);
afterAll(() => t.close());

/** Who asks is looked up once a second, whatever is asked. */
function isOfQuery(text: string): boolean {
  return !text.includes('from token t where t.hash');
}

async function sentFor(query: string, event: string) {
  const { result, sent } = await statementsOf(() =>
    ask<{ event: { visits?: { nodes: object[] } } }>(t, token, query, { event }),
  );
  expect([result.status, result.errors]).toEqual([200, []]);
  return { sent: sent.filter(isOfQuery), data: result.data };
}

const QUERIES: Readonly<Record<string, string>> = {
  'the visits of an event with their wells, crews and purges': `query($event:ID!){event(id:$event){visits(first:100){nodes{
    id well{name nest{name}} crew{name} purges(first:2){nodes{id began}}}}}}`,
  'the readings, assessments and calls of purges': `query($event:ID!){event(id:$event){visits(first:100){nodes{
    purges(first:1){nodes{readings(first:2){nodes{ph observed{at} meter{label}}} assessment{stable firstHeldAt} call{decision}}}}}}}`,
  'levels, soundings, set-ups, samples and occurrences': `query($event:ID!){event(id:$event){visits(first:100){nodes{
    waterLevels(first:2){nodes{depthToWaterFt}} soundings(first:1){nodes{depthToBottomFt}} samples(first:2){nodes{number}}
    pumpSetUps(first:1){nodes{pump{label}}} purges(first:1){nodes{occurrences(first:1){nodes{type}}}}}}}}`,
  'flags and conflicts, how many there are, and who wrote': `query($event:ID!){event(id:$event){visits(first:100){nodes{
    by{name} allFlags(first:2){totalCount nodes{rule well{name} subject{id}}} allConflicts(first:1){totalCount nodes{id}}
    flags(first:1){nodes{id}} conflicts(first:1){nodes{id}}}}}}`,
  'how it stands': `query($event:ID!){event(id:$event){status{totals{visits} wells{name crew{crew{name}} visit{id} purge{began}}
    crews{inTouch{lastPush devices{device{label}}}}}}}`,
};

describe('the statements of a query', () => {
  it.each(Object.entries(QUERIES))('are as many for a hundred visits as for one: %s', async (_, query) => {
    const few = await sentFor(query, fewEvent);
    const many = await sentFor(query, manyEvent);
    expect(many.sent.length).toBe(few.sent.length);
    expect(few.sent.length).toBeLessThanOrEqual(14);
    if (query.includes('visits(')) expect(many.data.event.visits?.nodes).toHaveLength(MANY);
  });

  it('are the same for the status of several events as for one', async () => {
    const query = '{events(first:20){nodes{status{totals{visits}}}}}';
    const { result, sent } = await statementsOf(() =>
      ask<{ events: { nodes: { status: { totals: { visits: number } } }[] } }>(t, token, query),
    );
    expect(result.data.events.nodes.map((event) => event.status.totals.visits)).toEqual([0, 1, MANY]);
    expect(sent.filter(isOfQuery).length).toBeLessThanOrEqual(9);
  });

  it('cut each list off in the database, under each of its parents', async () => {
    const query = `query($event:ID!){event(id:$event){visits(first:100){nodes{purges(first:1){nodes{readings(last:2){nodes{id}}}}}}}}`;
    const { sent, data } = await sentFor(query, manyEvent);
    const readings = sent.find((text) => text.includes('"reading"'));
    expect(readings).toMatch(/lateral[\s\S]*order by[\s\S]*limit/);
    type Purge = { readings: { nodes: object[] } };
    const visits = data.event.visits?.nodes as { purges: { nodes: Purge[] } }[];
    expect(visits.flatMap((visit) => visit.purges.nodes.map((purge) => purge.readings.nodes.length))).toEqual(
      Array(MANY).fill(2),
    );
  });

  it('are none for what costs none: ids of records are in the record', async () => {
    const query = '{node(id:"ID"){... on Visit{wellId crewId eventId}}}'.replace('ID', t.firm.ids.lone);
    expect((await statementsOf(() => ask(t, token, query))).sent.filter(isOfQuery)).toHaveLength(1);
  });
});
