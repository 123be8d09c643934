import type { GraphQLObjectType } from 'graphql';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { graphSchema } from '../../src/doors/graphql/schema.ts';
import { containerDraft, fillDraft, pumpedVisit, sampleDraft, sampleId } from '../support/sample-drafts.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { readingDraft } from '../support/visit-drafts.ts';
import { ask } from './graphql/ask.ts';
import { asAnswered, everything, withoutNulls } from './graphql/graph-values.ts';
import { RestClient } from './rest/rest-client.ts';

const schema = graphSchema();
let t: TestApp;
let token: string;
let rest: RestClient;
const visit = sampleId('v1');
const EXPECTED = { standing: 'expected' };
const METALS = {
  group: 'metals-total',
  suite: 'Metals',
  type: 'bottle',
  material: 'hdpe',
  preservatives: ['nitric-acid'],
};

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
  rest = new RestClient(t, token);
  const { firm } = t;
  const { event, lone } = firm.ids;
  const [planned, voided] = [sampleId('planned'), sampleId('W-1-9')];
  const ofPlan = { event, number: 'W-2', type: 'duplicate', well: lone, suites: ['VOC'], standing: 'planned' };
  const drafts: Draft[] = [
    {
      kind: 'analyte-suite',
      set: { name: 'Metals', groups: [{ group: 'metals-total', filtered: true }], priority: 1 },
    },
    { kind: 'planned-sample', id: planned, set: ofPlan },
    ...pumpedVisit(firm, 'v1'),
    ...[5, 10].map((at) => readingDraft(firm, sampleId('v1 purge'), at, { flowMlPerMin: String(100 + at) })),
    sampleDraft('v1', 'W-1', { suites: ['VOC', 'Metals'] }),
    containerDraft(firm, 'W-1-1', 'W-1'),
    fillDraft(firm, 'W-1-1', 35),
    containerDraft(firm, 'W-1-2', 'W-1', EXPECTED),
    containerDraft(firm, 'W-1-3', 'W-1', { ...METALS, ...EXPECTED, volumeMl: '500' }),
    containerDraft(firm, 'W-1-9', 'W-1', EXPECTED),
    { verb: 'void', kind: 'container', id: voided, base: { rev: 1 }, reason: 'twice' },
    containerDraft(firm, 'W-2-1', null, { ...EXPECTED, planned }),
    // at another visit, and of another event's plan: neither is filled here
    ...pumpedVisit(firm, 'v2', { well: firm.ids.deep }),
    sampleDraft('v2', 'W-9'),
    containerDraft(firm, 'W-9-1', 'W-9', EXPECTED),
  ];
  const outcomes = await (await firm.client('admin')).push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
});
afterAll(() => t.close());

async function byGraph(name: string, args: string, of = visit, secret = token) {
  const field = (schema.getType('Visit') as GraphQLObjectType).getFields()[name];
  if (!field) throw new Error(`a visit has no field ${name}`);
  const query = `query ($id: ID!) { visit(id: $id) { ${name}${args} ${everything(field.type)} } }`;
  const answer = await ask<{ visit: Record<string, unknown> | null }>(t, secret, query, { id: of });
  const told = answer.data?.visit?.[name];
  return { ...answer, told: told ? withoutNulls(asAnswered(told, field.type)) : told };
}

describe('what is filled at a visit', () => {
  it('is told in the order to fill, by REST and GraphQL alike', async () => {
    const { status, body } = await rest.get(`/visits/${visit}/fill-order`);
    expect(status).toBe(200);
    const { told, errors } = await byGraph('fillOrder', '');
    expect([errors, told]).toEqual([[], withoutNulls(body)]);
    const containers = body.containers as { label: string; state: string; filtered: boolean; fillS: string }[];
    expect(containers.map(({ label, state }) => [label, state])).toEqual([
      ['W-1-1', 'filled'],
      ['W-1-2', 'next'],
      ['W-2-1', 'waiting'],
      ['W-1-3', 'waiting'],
    ]);
    // the suite asks for filtered metals; the last reading said 110 mL/min
    expect(containers[3]).toMatchObject({ filtered: true, poreUm: null, fillS: '272.7' });
    expect(body).toMatchObject({ flowMlPerMin: '110', next: sampleId('W-1-2'), mayFill: true, waitingMl: '580' });
    const faster = await rest.get(`/visits/${visit}/fill-order?flowMlPerMin=250`);
    expect((faster.body.containers as { fillS: string }[])[3]?.fillS).toBe('120');
    expect((await byGraph('fillOrder', '(flowMlPerMin: "250")')).told).toEqual(withoutNulls(faster.body));
  });

  it('with little water goes by the priority of the suite, alike', async () => {
    const { status, body } = await rest.get(`/visits/${visit}/short-water?availableMl=530`);
    expect(status).toBe(200);
    const { told, errors } = await byGraph('shortWater', '(availableMl: "530")');
    expect([errors, told]).toEqual([[], withoutNulls(body)]);
    expect(body).toMatchObject({ neededMl: '580', availableMl: '530', filledMl: '530', leftMl: '0' });
    const fills = (body.containers as { label: string; volumeMl: string }[]).map(({ label, volumeMl }) => [
      label,
      volumeMl,
    ]);
    expect(fills).toEqual([
      ['W-2-1', '40'],
      ['W-1-3', '490'],
      ['W-1-2', '0'],
    ]);
    expect(body.whoAgrees).toContain('who agreed');
  });

  it('is refused of water below zero, a visit that is void, and one that the reader does not see', async () => {
    expect([400, 422]).toContain((await rest.get(`/visits/${visit}/short-water?availableMl=-1`)).status);
    expect((await rest.get(`/visits/${v7()}/fill-order`)).body.code).toBe('record_missing');
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const theirs = await t.token('admin', null, other);
    const stranger = new RestClient(t, theirs);
    for (const path of ['fill-order', 'short-water?availableMl=530'])
      expect((await stranger.get(`/visits/${visit}/${path}`)).body.code).toBe('record_missing');
    expect((await byGraph('fillOrder', '', visit, theirs)).data.visit).toBeNull();
    const admin = await t.firm.client('admin');
    await admin.push({ verb: 'void', kind: 'visit', id: sampleId('v2'), base: { rev: 1 }, reason: 'mistaken' });
    const gone = await rest.get(`/visits/${sampleId('v2')}/fill-order`);
    expect(gone.body).toMatchObject({ code: 'record_missing' });
    expect(String(gone.body.detail)).toContain('void');
  });
});
