import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { kindNamed } from '../../../src/protocol/kinds-by-name.ts';
import { SCHEMA_VERSION } from '../../../src/protocol/version.ts';
import { recompute } from '../../../src/writes/recompute.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { visitDrafts } from '../../support/visit-drafts.ts';
import { equipmentBodies, sampleBodies } from '../rest/kind-bodies.ts';
import { RestClient } from '../rest/rest-client.ts';

interface Row {
  readonly record?: { readonly id: string };
}

let t: TestApp;
let crew: RestClient;
let admin: RestClient;
const ids = {
  visit: '',
  part: v7(),
  decon: v7(),
  sample: v7(),
  blank: v7(),
  laboratory: v7(),
  planned: v7(),
  container: v7(),
  cooler: v7(),
};
const OWN: Readonly<Record<string, string>> = {
  laboratory: ids.laboratory,
  'planned-sample': ids.planned,
  container: ids.container,
  cooler: ids.cooler,
};
let sets: Record<string, object>;

const OF_OFFICE = ['laboratory', 'analyte-suite', 'planned-sample'];

/** In the order in which a crew would record them: each after what it names. */
const OF_CREW = ['cooler', 'seal', 'hand-over', 'cooler-check', 'container', 'fill', 'sample-receipt', 'discrepancy'];

type Line = readonly [kind: string, id: string, set: object];

async function push(by: RestClient, lines: readonly Line[]) {
  const header = { client: v7(), schemaVersion: SCHEMA_VERSION, first: 1, count: lines.length };
  const mutations = lines.map(([kind, id, set], at) => ({
    mutationId: at + 1,
    verb: 'record',
    kind,
    id,
    set,
    clock: { wall: '2026-05-04T10:10:00-05:00', monotonicMs: at, boot: 'b', sequence: at + 1 },
  }));
  const payload = [header, ...mutations].map((line) => `${JSON.stringify(line)}\n`).join('');
  const { body } = await by.send('POST', '/sync/push', payload, { 'content-type': 'application/x-ndjson' });
  return body.outcomes.map(({ outcome, code, detail }: Record<string, string>) => [outcome, code, detail]);
}

async function rowsOf(feed: string): Promise<Map<string, object>> {
  const { body } = await crew.get(`/sync/feeds/${encodeURIComponent(feed)}/rows`);
  return new Map((body.rows as Row[]).flatMap(({ record }) => (record ? [[record.id, record] as const] : [])));
}

function lines(kinds: readonly string[]): Line[] {
  return kinds.map((kind) => [kind, OWN[kind] ?? v7(), sets[kind] ?? {}]);
}

beforeAll(async () => {
  t = await testApp();
  crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
  admin = new RestClient(t, await t.token('admin'));
  const { ids: made, drafts } = visitDrafts(t.firm);
  ids.visit = made.visit;
  const sample = { visit: made.visit, number: 'S-1', suites: ['voc'], collected: '2026-05-04T09:30:00-05:00' };
  const around = drafts.map(({ kind, id, set }) => [kind, id ?? v7(), set ?? {}] as const);
  await push(crew, [...around, ['sample', ids.sample, sample]]);
  sets = sampleBodies(t.firm, ids);
});
afterAll(() => t.close());

describe('samples and custody through a push', () => {
  it('are taken, and read again through REST and in their feeds as they were sent', async () => {
    expect(Object.keys(sets).sort()).toEqual([...OF_OFFICE, ...OF_CREW].sort());
    const [office, field] = [lines(OF_OFFICE), lines(OF_CREW)];
    expect(await push(admin, office)).toEqual(office.map(() => ['applied', undefined, undefined]));
    expect(await push(crew, field)).toEqual(field.map(() => ['applied', undefined, undefined]));
    const event = `event:${t.firm.ids.event}`;
    const feeds = { firm: await rowsOf('firm'), [event]: await rowsOf(event) };
    for (const [kind, id, set] of [...office, ...field]) {
      const read = await crew.get(`/${kindNamed(kind)?.plural}/${id}`);
      expect([kind, read.status, read.body.fields]).toEqual([kind, 200, set]);
      const feed = ['laboratory', 'analyte-suite'].includes(kind) ? 'firm' : event;
      expect([kind, feeds[feed]?.get(id)]).toEqual([kind, read.body]);
    }
    expect(await recompute(t.db.pool, t.firm.id)).toEqual([]);
  });

  it('are listed under what they name', async () => {
    const found = async (list: string) => (await crew.get(list)).body.items.map(({ id }: { id: string }) => id);
    expect(await found(`/containers?sample=${ids.sample}`)).toEqual([ids.container]);
    expect(await found(`/containers?cooler=${ids.cooler}&standing=filled`)).toEqual([ids.container]);
    expect(await found(`/planned-samples?event=${t.firm.ids.event}&standing=planned`)).toEqual([ids.planned]);
    expect(await found(`/fills?under=${ids.container}`)).toHaveLength(1);
    expect(await found(`/hand-overs?under=${ids.cooler}`)).toHaveLength(1);
    expect(await found(`/seals?under=${ids.cooler}`)).toHaveLength(1);
  });

  it('are refused to a crew where the office writes them', async () => {
    const said = await push(
      crew,
      lines(OF_OFFICE).map(([kind, , set]) => [kind, v7(), set]),
    );
    expect(said.map(([outcome, code]: string[]) => [outcome, code])).toEqual(
      OF_OFFICE.map(() => ['set_aside', 'right_missing']),
    );
  });

  it('name what a blank was planned as, and a sample of before stays as it was', async () => {
    const { blank } = equipmentBodies(t.firm, ids);
    const { decon: _, ...rest } = blank as Record<string, unknown>;
    const named = { ...rest, planned: ids.planned, laboratory: ids.laboratory, laboratoryNumber: 'GW-040' };
    expect(await push(crew, [['blank', ids.blank, named]])).toEqual([['applied', undefined, undefined]]);
    expect((await crew.get(`/blanks/${ids.blank}`)).body.fields).toEqual(named);
    expect((await crew.get(`/samples/${ids.sample}`)).body.fields.type).toBeUndefined();
  });
});

describe('what the office orders', () => {
  it.each([
    [{ groups: [{ group: 'volatile' }] }, '/groups/0/group'],
    [{ groups: [{ group: 'volatiles', variant: 'none-such' }] }, '/groups/0/variant'],
    [{ groups: [{ group: 'volatiles', holdingHours: '24' }] }, '/groups/0/reason'],
    [{ groups: [{ group: 'volatiles', preservatives: [], approvedBy: 'Cleo' }] }, '/groups/0/reason'],
  ])('is refused where it cannot be meant: %o', async (odd, pointer) => {
    const { body } = await admin.post('/analyte-suites', { name: 'X', ...odd });
    expect([body.status, body.pointer]).toEqual([422, pointer]);
  });

  it.each([
    [{ day: 'monday', from: '17:00', until: '09:00' }, '/receiving/0'],
    [{ day: 'monday', from: '24:00', until: '24:00' }, '/receiving/0/from'],
    [{ day: 'Monday', from: '09:00', until: '17:00' }, '/receiving/0/day'],
  ])('is refused where nobody is there: %o', async (hours, pointer) => {
    const { body } = await admin.post('/laboratories', { name: 'L', timeZone: 'America/Denver', receiving: [hours] });
    expect([body.status, body.pointer]).toEqual([422, pointer]);
  });

  it('of a plan is read, and an option that nobody knows is refused', async () => {
    const { site, lone } = t.firm.ids;
    const sampling = {
      fillOrder: 'usgs-field-manual',
      pfas: 'after-volatiles',
      suites: ['VOC'],
      wells: [{ well: lone, suites: ['VOC', 'metals'], filtered: true, splitWith: ids.laboratory }],
      duplicatesPer: 20,
      blindDuplicates: false,
      msMsdPer: 20,
      fieldBlanksPer: 'day',
      tripBlankSuites: ['VOC'],
      temperatureBlankPerCooler: false,
      sampleWithinHours: { lowFlow: '2', dryWell: '24' },
      fillRateMlPerMin: { volatiles: '100', bottles: '500' },
      transitHours: '18',
      laboratoryOf: [{ suite: 'VOC', laboratory: ids.laboratory }],
    };
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', sampling };
    const body = { site, name: 'Fall', starts: '2026-10-01', ends: '2026-10-02', standing: 'planned', plan };
    const { body: made } = await admin.post('/events', body);
    expect((await admin.get(`/events/${made.id}`)).body.fields.plan).toEqual(plan);
    const odd = { ...body, plan: { ...plan, sampling: { ...sampling, duplicatesPer: 0 } } };
    expect((await admin.post('/events', odd)).body.pointer).toBe('/plan/sampling/duplicatesPer');
  });
});
