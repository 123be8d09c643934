import type { GraphQLField, GraphQLObjectType } from 'graphql';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { graphSchema } from '../../../src/doors/graphql/schema.ts';
import { statementsOf } from '../../reads/statements.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { type Draft, TestFirm } from '../../support/test-firm.ts';
import { minute, readingDraft, visitDrafts } from '../../support/visit-drafts.ts';
import { RestClient } from '../rest/rest-client.ts';
import { ask } from './ask.ts';
import { asAnswered, asVariable, everything, withoutNulls } from './graph-values.ts';

type Asked = Readonly<Record<string, string | number>>;

const schema = graphSchema();
let t: TestApp;
let token: string;
let rest: RestClient;
let purge: string;

/** A round of an earlier year of the lone well, with all that its summary tells. */
function round(year: number, index: number): Draft[] {
  const { site, lone, north, pump, meter } = t.firm.ids;
  const [event, visit, purged] = [v7(), v7(), v7()];
  const at = (time: string) => `${year}-05-04T${time}:00-05:00`;
  const observed = (time: string) => t.firm.observed(at(time));
  const dates = { starts: `${year}-05-04`, ends: `${year}-05-04`, standing: 'closed' };
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const level = { purpose: 'before-purge', state: 'measured', depthToWaterFt: `12.${10 + index}` };
  const values = { ph: `6.9${index % 4}`, specificConductanceUsPerCm: String(600 + index), flowMlPerMin: '200' };
  return [
    { kind: 'event', id: event, set: { site, name: `Round of ${year}`, ...dates, plan } },
    { kind: 'visit', id: visit, set: { event, well: lone, crew: north, method: 'low-flow', arrived: at('09:30') } },
    { kind: 'water-level', set: { visit, ...level, observed: observed('09:40') } },
    { kind: 'pump-set-up', set: { visit, pump, intakeDepthFt: '35.0', observed: observed('09:50') } },
    { kind: 'purge', id: purged, set: { visit, began: at('10:00') } },
    { kind: 'reading', set: { purge: purged, meter, ...values, observed: observed('10:05') } },
    { verb: 'amend', kind: 'visit', id: visit, set: { outcome: 'sampled', left: at('11:00') } },
  ];
}

/** Water that falls 0.05 ft a minute, and values on their way to rest. */
function running(ids: { readonly visit: string; readonly purge: string }): Draft[] {
  const { firm } = t;
  const level = { visit: ids.visit, state: 'measured', observed: firm.observed(minute(-5)) };
  const setUp = { visit: ids.visit, pump: firm.ids.pump, intakeDepthFt: '35.0', observed: firm.observed(minute(-4)) };
  const values = (at: number) => ({
    depthToWaterFt: (27 + 0.25 * at).toFixed(2),
    ph: ['7.82', '7.55', '7.39', '7.27', '7.18'][at],
    turbidityNtu: ['64', '41', '27', '18', '12.4'][at],
  });
  return [
    { kind: 'water-level', set: { ...level, purpose: 'before-purge', depthToWaterFt: '26.90' } },
    { kind: 'pump-set-up', set: setUp },
    ...[0, 1, 2, 3, 4].map((at) => readingDraft(firm, ids.purge, 5 * at, values(at))),
  ];
}

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
  rest = new RestClient(t, token);
  const office = await t.firm.client('coordinator');
  const crew = await t.firm.client('crew', t.firm.ids.phone);
  const { ids, drafts } = visitDrafts(t.firm);
  purge = ids.purge;
  const outcomes = [
    ...(await office.push(...Array.from({ length: 8 }, (_, index) => round(2016 + index, index)).flat())),
    ...(await crew.push(...drafts, ...running(ids))),
  ];
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
});
afterAll(() => t.close());

function fieldOf(type: string, name: string): GraphQLField<unknown, unknown> {
  const field = (schema.getType(type) as GraphQLObjectType).getFields()[name];
  if (!field) throw new Error(`${type} has no field ${name}`);
  return field;
}

/** Asks for everything that the answer can tell. */
async function byGraph(of: 'well' | 'purge', id: string, name: string, asked: Asked, secret = token) {
  const field = fieldOf(of === 'well' ? 'Well' : 'Purge', name);
  const args = field.args.filter((arg) => asked[arg.name] !== undefined);
  const declared = args.map((arg) => `, $${arg.name}: ${String(arg.type)}`).join('');
  const given = args.map((arg) => `${arg.name}: $${arg.name}`).join(', ');
  const call = `${name}${given === '' ? '' : `(${given})`} ${everything(field.type)}`;
  const variables = Object.fromEntries(args.map((arg) => [arg.name, asVariable(asked[arg.name], arg.type)]));
  const query = `query ($id: ID!${declared}) { ${of}(id: $id) { ${call} } }`;
  const answer = await ask<Record<string, Record<string, unknown> | null>>(t, secret, query, { id, ...variables });
  const told = answer.data?.[of]?.[name];
  return { ...answer, told: told ? withoutNulls(asAnswered(told, field.type)) : told };
}

function queryOf(asked: Asked): string {
  return new URLSearchParams(
    Object.fromEntries(Object.entries(asked).map(([name, value]) => [name, String(value)])),
  ).toString();
}

async function byRest(of: 'well' | 'purge', id: string, name: string, asked: Asked, client = rest) {
  if (name === 'whichWell') return client.post('/questions/which-well', { well: id, ...asked });
  const path = { lastRound: 'last-round', unlike: 'unlike', rounds: 'rounds', forecast: 'forecast' }[name];
  return client.get(`/${of}s/${id}/${path}?${queryOf(asked)}`);
}

const OF_LONE: readonly (readonly [string, Asked])[] = [
  ['lastRound', {}],
  ['lastRound', { depthToWaterFt: '12.60', depthToBottomFt: '39.9', bottomClearanceFt: '3' }],
  ['unlike', { depthToWaterFt: '12.70', ph: '4.10', specificConductanceUsPerCm: '604' }],
  ['rounds', {}],
  ['rounds', { quantity: 'specificConductanceUsPerCm', side: 'rising', significancePercent: '1' }],
];

describe('what is asked of stored records is answered alike by REST and GraphQL', () => {
  it.each(OF_LONE)('%s of a well, %j', async (name, asked) => {
    const { status, body } = await byRest('well', t.firm.ids.lone, name, asked);
    const { told, errors } = await byGraph('well', t.firm.ids.lone, name, asked);
    expect([status, errors]).toEqual([200, []]);
    expect(told).toEqual(withoutNulls(body));
    expect(JSON.stringify(body)).toMatch(/Round of 2023|8 earlier rounds/);
  });

  it('an earlier round in the event that is under way is none', async () => {
    const { lone } = t.firm.ids;
    const { body: last } = await byRest('well', lone, 'lastRound', {});
    for (const name of ['lastRound', 'rounds']) {
      const asked = { exceptEvent: last.event };
      const { told } = await byGraph('well', lone, name, asked);
      expect(told).toEqual(withoutNulls((await byRest('well', lone, name, asked)).body));
      expect(JSON.stringify(told)).not.toContain(last.event);
    }
  });

  it.each(['19.8', '39.7', '25', '90'])('whichWell, sounded at %s ft', async (depthToBottomFt) => {
    for (const well of [t.firm.ids.shallow, t.firm.ids.deep, t.firm.ids.lone]) {
      const { status, body } = await byRest('well', well, 'whichWell', { depthToBottomFt });
      const { told, errors } = await byGraph('well', well, 'whichWell', { depthToBottomFt });
      expect([status, errors, told]).toEqual([200, [], body]);
    }
  });

  it.each([{}, { withinMin: 20, marginFt: '1.0' }, { withinMin: 1 }])('forecast of a purge, %j', async (asked) => {
    const { status, body } = await byRest('purge', purge, 'forecast', asked);
    const { told, errors } = await byGraph('purge', purge, 'forecast', asked);
    expect([status, errors]).toEqual([200, []]);
    expect(told).toEqual(withoutNulls(body));
    expect(body.latestReadingAt).toBe(minute(20));
  });
});

describe('what cannot be answered is refused alike', () => {
  it.each([
    ['well', 'lastRound', { depthToWaterFt: '12 ft' }],
    ['well', 'unlike', { ph: 'acid' }],
    ['well', 'rounds', { exceptEvent: 'spring' }],
    ['well', 'whichWell', { depthToBottomFt: 'deep' }],
    ['purge', 'forecast', { withinMin: 0 }],
    ['purge', 'forecast', { marginFt: 'a foot' }],
  ] as const)('%s %s %j', async (of, name, asked) => {
    const id = of === 'well' ? t.firm.ids.lone : purge;
    const [field] = Object.keys(asked);
    expect([400, 422]).toContain((await byRest(of, id, name, asked)).status);
    const { told, errors } = await byGraph(of, id, name, asked);
    expect(told).toBeNull();
    expect(errors[0]?.extensions).toMatchObject({ code: 'unreadable_record', pointer: `/${field}` });
  });

  it('of another firm, or of a feed that the reader does not follow, nothing is there', async () => {
    const other = new TestFirm(t.db.pool);
    await other.setUp();
    const [crew, device] = [v7(), v7()];
    const admin = await t.firm.client('admin');
    await admin.push({ kind: 'crew', id: crew, set: { name: 'Stranger' } });
    await admin.push({ kind: 'device', id: device, set: { label: 'Phone 9', crew } });
    const readers = [await t.token('admin', null, other), await t.token('crew', device)];
    for (const reader of readers) {
      const client = new RestClient(t, reader);
      for (const [name, asked] of [...OF_LONE, ['whichWell', { depthToBottomFt: '20' }] as const]) {
        expect((await byRest('well', t.firm.ids.lone, name, asked, client)).body.code).toBe('record_missing');
        expect((await byGraph('well', t.firm.ids.lone, name, asked, reader)).data.well).toBeNull();
      }
      expect((await byRest('purge', purge, 'forecast', {}, client)).body.code).toBe('record_missing');
      expect((await byGraph('purge', purge, 'forecast', {}, reader)).data.purge).toBeNull();
    }
  });

  it('a void well or purge is not asked about', async () => {
    const admin = await t.firm.client('admin');
    const well = t.firm.ids.deep;
    const { ids, drafts } = visitDrafts(t.firm);
    const gone = (kind: string, id: string): Draft => ({
      verb: 'void',
      kind,
      id,
      base: { rev: 1 },
      reason: 'mistaken',
    });
    const outcomes = await admin.push(...drafts, gone('well', well), gone('purge', ids.purge));
    expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
    for (const [of, id, name, asked] of [
      ['well', well, 'whichWell', { depthToBottomFt: '20' }],
      ['purge', ids.purge, 'forecast', {}],
    ] as const) {
      expect((await byRest(of, id, name, asked)).body.code).toBe('record_missing');
      const { told, errors } = await byGraph(of, id, name, asked);
      expect([told, errors[0]?.extensions.code]).toEqual([null, 'record_missing']);
      expect(errors[0]?.message).toContain('is void');
    }
  });
});

describe('asking of stored records', () => {
  it('reads the rounds of a well once, whatever is asked of them, and those of many wells together', async () => {
    const three = 'lastRound { arrived } unlike(ph: "7") { unlike } rounds { median }';
    const reads = async (query: string) => {
      const { result, sent } = await statementsOf(() => ask(t, token, query, { id: t.firm.ids.lone }));
      expect(result.errors).toEqual([]);
      return sent.filter((text) => text.includes('from visit_summary')).length;
    };
    expect(await reads(`query ($id: ID!) { well(id: $id) { ${three} } }`)).toBe(1);
    expect(await reads(`query { wells(first: 5) { nodes { ${three} } } }`)).toBe(1);
  });

  it('costs: forecasts and rounds of a long list are too many', async () => {
    const { errors } = await ask(t, token, '{ wells(first: 100) { nodes { rounds { median } } } }');
    expect(errors[0]?.extensions).toMatchObject({ code: 'query_too_costly', limit: 'cost' });
    const many = Array.from({ length: 40 }, (_, index) => `p${index}: purge(id: $id) { forecast { criteria } }`);
    const refused = await ask(t, token, `query ($id: ID!) { ${many.join(' ')} }`, { id: purge });
    expect(refused.errors[0]?.extensions).toMatchObject({ code: 'query_too_costly', limit: 'cost' });
    const some = await ask(t, token, `query ($id: ID!) { ${many.slice(0, 20).join(' ')} }`, { id: purge });
    expect(some.errors).toEqual([]);
  });
});
