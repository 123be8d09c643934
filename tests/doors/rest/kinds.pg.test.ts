import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { kindShapes, WRITABLE_KINDS } from '../../../src/doors/rest/kind-shapes.ts';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { equipmentBodies, kindBodies, sampleBodies } from './kind-bodies.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let admin: RestClient;
const visit = v7();
const purge = v7();
let bodies: Record<string, object>;

async function feedText(feed: string, id: string): Promise<string> {
  const { rows } = await t.db.bypass.query(
    `select l.state::text as state from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.feed = $2 and h.id = $3`,
    [t.firm.id, feed, id],
  );
  return rows[0]?.state;
}

beforeAll(async () => {
  t = await testApp();
  admin = new RestClient(t, await t.token('admin'));
  const { event, lone, north } = t.firm.ids;
  const arrived = '2026-05-04T09:00:00-05:00';
  await admin.post('/visits', { id: visit, event, well: lone, crew: north, method: 'low-flow', arrived });
  await admin.post('/purges', { id: purge, visit, began: arrived });
  // a sample with no level measured first raises a flag; in a visit of its own, so that it stays
  const other = await admin.post('/visits', { event, well: lone, crew: north, method: 'low-flow', arrived });
  const sample = { visit: other.body.id, number: 'S-000', suites: ['voc'], collected: '2026-05-04T09:30:00-05:00' };
  const taken = await admin.post('/samples', sample);
  const ids = { visit, part: v7(), decon: v7(), sample: taken.body.id, blank: v7() };
  const equipment = equipmentBodies(t.firm, ids);
  await admin.post('/parts', { ...equipment.part, id: ids.part });
  await admin.post('/decons', { ...equipment.decon, id: ids.decon });
  await admin.post('/blanks', { ...equipment.blank, id: ids.blank });
  const { body } = await admin.get(`/flags?under=${other.body.id}&limit=1`);
  const named = { ...ids, laboratory: v7(), planned: v7(), container: v7(), cooler: v7() };
  const samples = sampleBodies(t.firm, named);
  await admin.post('/laboratories', { ...samples.laboratory, id: named.laboratory });
  await admin.post('/planned-samples', { ...samples['planned-sample'], id: named.planned });
  await admin.post('/coolers', { ...samples.cooler, id: named.cooler });
  await admin.post('/containers', { ...samples.container, id: named.container });
  bodies = kindBodies(t.firm, { ...named, purge, flag: body.items[0].id });
});
afterAll(() => t.close());

describe('every kind', () => {
  it('has a body in this test if it is written by people', () => {
    expect(Object.keys(bodies).sort()).toEqual(WRITABLE_KINDS.map((kind) => kind.name).sort());
  });

  it('is recorded by POST and read again exactly as in its feed', async () => {
    for (const kind of WRITABLE_KINDS) {
      const posted = await admin.post(`/${kind.plural}`, bodies[kind.name] ?? {});
      expect([kind.name, posted.status, posted.body.outcome]).toEqual([
        kind.name,
        201,
        expect.stringMatching(/^(applied|merged)$/),
      ]);
      const location = `/v1/${kind.plural}/${posted.body.id}`;
      expect(posted.headers.location).toBe(location);
      const read = await admin.get(location.slice(3));
      expect(read.status).toBe(200);
      expect(read.text).toBe(await feedText(posted.body.feed, posted.body.id));
      expect(read.headers.etag).toBe(`"${read.body.rev}"`);
      expect(kindShapes(kind).record.safeParse(read.body).error).toBeUndefined();
      const sent = Object.entries(bodies[kind.name] ?? {}).filter(([, value]) => value !== null);
      expect(read.body.fields).toMatchObject(Object.fromEntries(sent));
    }
  });

  it('is listed, with a history, in the documented form', async () => {
    for (const kind of KINDS) {
      const list = await admin.get(`/${kind.plural}?limit=3`);
      expect([kind.name, list.status]).toEqual([kind.name, 200]);
      expect(kindShapes(kind).page.safeParse(list.body).error).toBeUndefined();
      const [first] = list.body.items;
      if (!first) continue;
      const history = await admin.get(`/${kind.plural}/${first.id}/history`);
      expect([kind.name, history.status]).toEqual([kind.name, 200]);
      expect(kindShapes(kind).history.safeParse(history.body).error).toBeUndefined();
      expect(history.body.items.at(-1).record).toEqual((await admin.get(`/${kind.plural}/${first.id}`)).body);
    }
  });

  it('that the server derives is read and not written', async () => {
    for (const kind of KINDS.filter((one) => !WRITABLE_KINDS.includes(one))) {
      const posted = await admin.post(`/${kind.plural}`, {});
      expect([kind.name, posted.status, posted.body.code]).toEqual([kind.name, 404, 'not_found']);
    }
    const { body } = await admin.get('/flags?limit=1');
    const tag = (await admin.get(`/flags/${body.items[0].id}`)).headers.etag;
    expect(tag).toMatch(/^"\d+-[0-9a-f]{16}"$/);
  });
});
