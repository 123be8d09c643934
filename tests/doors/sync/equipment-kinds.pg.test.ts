import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { kindNamed } from '../../../src/protocol/kinds-by-name.ts';
import { SCHEMA_VERSION } from '../../../src/protocol/version.ts';
import { recompute } from '../../../src/writes/recompute.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { visitDrafts } from '../../support/visit-drafts.ts';
import { equipmentBodies } from '../rest/kind-bodies.ts';
import { RestClient } from '../rest/rest-client.ts';

interface Row {
  readonly record?: { readonly id: string };
}

let t: TestApp;
let crew: RestClient;
const ids = { visit: '', part: v7(), decon: v7(), sample: v7(), blank: v7() };
let bodies: [kind: string, id: string, set: object][];

/** In the order in which a crew would record them: each after what it names. */
const ORDER = [
  'part',
  'part-change',
  'decon',
  'decon-step',
  'unit-service',
  'calibration-check',
  'kit-check',
  'unit-use',
  'blank',
  'laboratory-result',
];

function push(lines: readonly (readonly [string, string, object])[], client = v7()) {
  const header = { client, schemaVersion: SCHEMA_VERSION, first: 1, count: lines.length };
  const mutations = lines.map(([kind, id, set], at) => ({
    mutationId: at + 1,
    verb: 'record',
    kind,
    id,
    set,
    clock: { wall: '2026-05-04T10:10:00-05:00', monotonicMs: at, boot: 'b', sequence: at + 1 },
  }));
  const payload = [header, ...mutations].map((line) => `${JSON.stringify(line)}\n`).join('');
  return crew.send('POST', '/sync/push', payload, { 'content-type': 'application/x-ndjson' });
}

async function rowsOf(feed: string): Promise<Map<string, object>> {
  const { body } = await crew.get(`/sync/feeds/${encodeURIComponent(feed)}/rows`);
  return new Map((body.rows as Row[]).flatMap(({ record }) => (record ? [[record.id, record] as const] : [])));
}

beforeAll(async () => {
  t = await testApp();
  crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
  const { ids: made, drafts } = visitDrafts(t.firm);
  const { visit } = made;
  const sample = { visit, number: 'S-1', suites: ['voc'], collected: '2026-05-04T09:30:00-05:00' };
  const around = drafts.map(({ kind, id, set }) => [kind, id ?? v7(), set ?? {}] as const);
  await push([...around, ['sample', ids.sample, sample]]);
  const sets = equipmentBodies(t.firm, { ...ids, visit });
  const own: Record<string, string> = { part: ids.part, decon: ids.decon, blank: ids.blank };
  bodies = ORDER.map((kind) => [kind, own[kind] ?? v7(), sets[kind] ?? {}]);
});
afterAll(() => t.close());

describe('equipment through a push of a crew', () => {
  it('is taken, and read again through REST and in its feed as it was sent', async () => {
    expect(Object.keys(equipmentBodies(t.firm, ids)).sort()).toEqual([...ORDER].sort());
    const { body } = await push(bodies);
    const said = body.outcomes.map(({ outcome, kind, detail }: Record<string, unknown>) => [kind, outcome, detail]);
    expect(said).toEqual(ORDER.map((kind) => [kind, 'applied', undefined]));
    const event = `event:${t.firm.ids.event}`;
    const feeds = { firm: await rowsOf('firm'), [event]: await rowsOf(event) };
    for (const [kind, id, set] of bodies) {
      const read = await crew.get(`/${kindNamed(kind)?.plural}/${id}`);
      expect([kind, read.status, read.body.fields]).toEqual([kind, 200, set]);
      const feed = ['kit-check', 'unit-use', 'blank', 'laboratory-result'].includes(kind) ? event : 'firm';
      expect([kind, feeds[feed]?.get(id)]).toEqual([kind, read.body]);
    }
    expect(await recompute(t.db.pool, t.firm.id)).toEqual([]);
  });

  it('is listed under what it names, and has its history', async () => {
    const { pump, event } = t.firm.ids;
    const found = async (list: string) => (await crew.get(list)).body.items.map(({ id }: { id: string }) => id);
    const idOf = (kind: string) => bodies.find(([name]) => name === kind)?.[1];
    expect(await found(`/decons?unit=${pump}`)).toEqual([ids.decon]);
    expect(await found(`/decon-steps?decon=${ids.decon}`)).toEqual([idOf('decon-step')]);
    expect(await found(`/unit-uses?unit=${pump}`)).toEqual([idOf('unit-use')]);
    expect(await found(`/laboratory-results?blank=${ids.blank}&condition=detected`)).toEqual([
      idOf('laboratory-result'),
    ]);
    expect(await found(`/blanks?event=${event}`)).toEqual([ids.blank]);
    const history = await crew.get(`/decon-steps/${idOf('decon-step')}/history`);
    expect(history.body.items).toHaveLength(1);
  });

  it('waits where it comes before what it names, and is taken when that comes', async () => {
    const [decon, step] = [v7(), v7()];
    const made = equipmentBodies(t.firm, { ...ids, decon });
    const early = await push([['decon-step', step, made['decon-step'] ?? {}]]);
    expect(early.body.outcomes[0]).toMatchObject({ outcome: 'set_aside', code: 'parent_missing' });
    await push([['decon', decon, made.decon ?? {}]]);
    expect((await crew.get(`/decon-steps/${step}`)).body.fields).toMatchObject({ decon, done: false });
  });

  it('of a plan is read, and an option that nobody knows is refused', async () => {
    const admin = new RestClient(t, await t.token('admin'));
    const { site } = t.firm.ids;
    const plan = {
      criteria: 'epa-region-1-low-stress-rev-4',
      equipment: {
        deconProtocols: ['pump-flush'],
        partLotsRequired: ['bladder', 'fluid'],
        partsRenewed: ['tubing'],
        rinsatePer: 'unit-and-day',
        dirtierFactor: '5',
        blankRule: 'us-dod-2022',
      },
      calibration: { set: 'usgs-field-manual', longestH: 12 },
    };
    const body = { site, name: 'Fall', starts: '2026-10-01', ends: '2026-10-02', standing: 'planned', plan };
    const { body: made } = await admin.post('/events', body);
    expect((await admin.get(`/events/${made.id}`)).body.fields.plan).toEqual(plan);
    const odd = { ...body, plan: { ...plan, equipment: { dirtierFactor: '0.5' } } };
    expect((await admin.post('/events', odd)).body.pointer).toBe('/plan/equipment/dirtierFactor');
  });
});
