import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../support/test-app.ts';
import { type Draft, TestClient } from '../support/test-firm.ts';
import { readingDraft, visitDrafts } from '../support/visit-drafts.ts';

let t: TestApp;
let phone: TestClient;
let office: string;
const flowing = v7();

beforeAll(async () => {
  t = await testApp();
  office = await t.token('coordinator');
  phone = new TestClient(await t.firm.actor('crew', t.firm.ids.phone), t.firm.lane);
  const admin = new TestClient(await t.firm.actor('admin'), t.firm.lane);
  const depths = { depthsFrom: 'measuring-point', totalDepthFt: '40', screenTopFt: '30', screenBottomFt: '40' };
  const set = { site: t.firm.ids.site, name: 'W-2', standing: 'in-service', knownToFlow: true, ...depths };
  await admin.push({ kind: 'well', id: flowing, set });
});
afterAll(() => t.close());

async function read<Body>(url: string): Promise<Body> {
  return (await t.app.inject({ url: `/v1${url}`, headers: { authorization: `Bearer ${office}` } })).json() as Body;
}

interface Flags {
  readonly items: readonly { readonly fields: { readonly rule: string; readonly sentence: string } }[];
}

/** Pushes a visit with something in it. @returns the outcomes, and the flags of the visit by their rules */
async function visit(well: string, make: (purge: string, visit: string) => Draft) {
  const { ids, drafts } = visitDrafts(t.firm, { well });
  const what = make(ids.purge, ids.visit);
  const outcomes = await phone.push(...drafts, what);
  const { items } = await read<Flags>(`/flags?visit=${ids.visit}&standing=raised`);
  return { outcomes, flags: new Map(items.map(({ fields }) => [fields.rule, fields.sentence])), id: what.id ?? '' };
}

function level(depthToWaterFt: string, more: object = {}): (purge: string, visit: string) => Draft {
  const observed = t.firm.observed('2026-05-04T09:45:00-05:00');
  return (_, visit) => ({
    kind: 'water-level',
    id: v7(),
    set: { visit, purpose: 'before-purge', state: 'measured', depthToWaterFt, observed, ...more },
  });
}

describe('what can be read and is hard to believe', () => {
  it('is kept as it was typed, and asked about: pH 15', async () => {
    const reading = (purge: string) => readingDraft(t.firm, purge, 5, { ph: '15.00' });
    const { outcomes, flags, id } = await visit(t.firm.ids.lone, reading);
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(['applied', 'applied', 'applied']);
    expect(flags.get('value-not-believable')).toContain('pH 15.00');
    expect(await read(`/readings/${id}`)).toMatchObject({ fields: { ph: '15.00' } });
  });

  it('is kept and asked about: water below the bottom of the well', async () => {
    const { outcomes, flags, id } = await visit(t.firm.ids.lone, level('41.30'));
    expect(outcomes.at(-1)?.outcome).toBe('applied');
    expect([...flags.keys()]).toContain('water-below-bottom');
    expect(await read(`/water-levels/${id}`)).toMatchObject({ fields: { depthToWaterFt: '41.30' } });
  });

  it('is kept and asked about: 3.2 ft above the measuring point, in a well not known to flow', async () => {
    const { outcomes, flags, id } = await visit(t.firm.ids.lone, level('-3.2'));
    expect(outcomes.at(-1)?.outcome).toBe('applied');
    expect(flags.get('water-above-measuring-point')).toContain('-3.2 ft');
    expect(await read(`/water-levels/${id}`)).toMatchObject({ fields: { depthToWaterFt: '-3.2' } });
  });

  it('is kept and not asked about where it is no wonder: the same in a well that is known to flow', async () => {
    const { outcomes, flags, id } = await visit(flowing, level('-3.2'));
    expect(outcomes.at(-1)?.outcome).toBe('applied');
    expect([...flags.keys()]).not.toContain('water-above-measuring-point');
    expect(await read(`/water-levels/${id}`)).toMatchObject({ fields: { depthToWaterFt: '-3.2' } });
  });

  it('is kept through REST and through GraphQL as well', async () => {
    const { ids, drafts } = visitDrafts(t.firm);
    await phone.push(...drafts);
    const { set } = readingDraft(t.firm, ids.purge, 5, { ph: '-2.5' });
    const headers = { authorization: `Bearer ${office}` };
    const rest = await t.app.inject({ method: 'POST', url: '/v1/readings', headers, payload: set ?? {} });
    expect(rest.statusCode).toBe(201);
    const observed = { ...(set?.observed as object), captured: 'AT_THE_WELL' };
    const query = 'mutation ($input: ReadingInput!) { recordReading(input: $input) { outcome id } }';
    const payload = { query, variables: { input: { purge: ids.purge, ph: '99', observed } } };
    const graph = await t.app.inject({ method: 'POST', url: '/graphql', headers, payload });
    expect(graph.json().data.recordReading.outcome).toBe('APPLIED');
    const { items } = await read<Flags>(`/flags?visit=${ids.visit}&standing=raised`);
    const sentence = items.find(({ fields }) => fields.rule === 'value-not-believable')?.fields.sentence;
    expect(sentence).toMatch(/pH (-2.5|99) in 2 readings/);
  });
});
