import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let admin: RestClient;
let crew: RestClient;
let elsewhere: string;
const visits: string[] = [];
const readings: string[] = [];

/** Ids as phones make them: in the order of the times at which they were made. */
const idAt = (ms: number) => v7({ msecs: ms });

beforeAll(async () => {
  t = await testApp();
  admin = new RestClient(t, await t.token('admin'));
  crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
  const { site, event, lone, deep, north, meter } = t.firm.ids;
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const other = await admin.post('/events', {
    site,
    name: 'Of others',
    starts: '2026-06-01',
    ends: '2026-06-02',
    standing: 'open',
    plan,
  });
  elsewhere = other.body.id;
  const arrived = '2026-05-04T09:00:00-05:00';
  for (const [of, well] of [
    [event, lone],
    [event, deep],
    [elsewhere, lone],
  ] as const) {
    const visit = await admin.post('/visits', { event: of, well, crew: north, method: 'low-flow', arrived });
    visits.push(visit.body.id);
  }
  const purge = await admin.post('/purges', { visit: visits[0], began: arrived });
  for (let index = 0; index < 23; index++) {
    const observed = t.firm.observed(`2026-05-04T09:${String(10 + index)}:00-05:00`);
    const id = idAt(Date.parse('2026-05-04T14:00:00Z') + index * 60_000);
    await admin.post('/readings', { id, purge: purge.body.id, meter, ph: '7.10', observed });
    readings.push(id);
  }
});
afterAll(() => t.close());

async function walk(client: RestClient, first: string, between?: () => Promise<unknown>): Promise<string[]> {
  const seen: string[] = [];
  let url: string | null = first;
  while (url) {
    const page = await client.get(url);
    expect(page.status).toBe(200);
    seen.push(...page.body.items.map((item: { id: string }) => item.id));
    const link = String(page.headers.link ?? '');
    url = /^<\/v1([^>]+)>; rel="next"$/.exec(link)?.[1] ?? null;
    expect(url === null).toBe(page.body.next === null);
    if (url) expect(new URL(url, 'http://x').searchParams.get('cursor')).toBe(page.body.next);
    await between?.();
  }
  return seen;
}

describe('a list', () => {
  it('is complete whatever the size of its pages, in the order of ids', async () => {
    for (const limit of [1, 5, 22, 23, 24, 200]) {
      expect(await walk(admin, `/readings?limit=${limit}`)).toEqual(readings);
    }
  });

  it('lists what was there when it began exactly once, while others write', async () => {
    let written = 0;
    const seen = await walk(admin, '/units?limit=1', async () => {
      if (written++ > 6) return;
      await admin.post('/units', { type: 'compressor', label: `C ${written}`, use: 'shared', ownership: 'owned' });
      await admin.patch(`/units/${t.firm.ids.pump}`, { serial: `S${written}`, base: { rev: written } });
    });
    const { pump, otherPump, meter, otherMeter } = t.firm.ids;
    expect(seen).toEqual(expect.arrayContaining([pump, otherPump, meter, otherMeter]));
    expect(new Set(seen).size).toBe(seen.length);
  });

  it('is filtered by what its records name, the record or feed that they live under, and their words', async () => {
    const { event, lone, deep, site, nest } = t.firm.ids;
    const [atLone, atDeep, ofOthers] = visits;
    expect(await walk(admin, '/visits?limit=1')).toEqual([...visits].sort());
    expect(await walk(admin, `/visits?event=${event}`)).toEqual([atLone, atDeep].sort());
    expect(await walk(admin, `/visits?under=${elsewhere}`)).toEqual([ofOthers]);
    expect(await walk(admin, `/visits?well=${lone}&limit=1`)).toEqual([atLone, ofOthers].sort());
    expect(await walk(admin, `/visits?well=${lone}&event=${event}`)).toEqual([atLone]);
    expect(await walk(admin, `/visits?feed=event:${elsewhere}`)).toEqual([ofOthers]);
    expect(await walk(admin, `/readings?event=${event}&limit=10`)).toEqual(readings);
    expect(await walk(admin, `/readings?event=${elsewhere}`)).toEqual([]);
    expect(await walk(admin, `/wells?nest=${nest}&site=${site}`)).toEqual([t.firm.ids.shallow, deep].sort());
    expect(await walk(admin, '/events?standing=planned')).toEqual([]);
    expect(await walk(admin, '/events?standing=open')).toEqual([event, elsewhere].sort());
    expect(await walk(admin, `/wells?under=${v7()}`)).toEqual([]);
  });
});

describe('a crew', () => {
  it('reads what it follows by feed, and nothing else', async () => {
    const [atLone, atDeep, ofOthers] = visits;
    expect(await walk(crew, '/visits?limit=1')).toEqual([atLone, atDeep].sort());
    expect(await walk(crew, `/visits?event=${elsewhere}`)).toEqual([]);
    expect(await walk(crew, `/visits?feed=event:${elsewhere}`)).toEqual([]);
    expect(await walk(crew, '/events')).toEqual([t.firm.ids.event]);
    expect((await crew.get(`/visits/${atLone}`)).status).toBe(200);
    for (const url of [`/visits/${ofOthers}`, `/visits/${ofOthers}/history`, `/events/${elsewhere}`]) {
      const { status, body } = await crew.get(url);
      expect([url, status, body.code]).toEqual([url, 404, 'record_missing']);
    }
    const change = await crew.patch(`/visits/${ofOthers}`, { base: { rev: 1 }, method: 'gauging' });
    expect([change.status, change.body.code]).toEqual([404, 'record_missing']);
  });

  it('without a device reads what belongs to the firm as a whole', async () => {
    const stray = new RestClient(t, await t.token('crew'));
    expect(await walk(stray, '/visits')).toEqual([]);
    expect((await walk(stray, '/members')).length).toBe(2);
  });
});
