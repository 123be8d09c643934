import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Draft } from '../support/test-firm.ts';
import { ask } from './graphql/ask.ts';
import { RestClient } from './rest/rest-client.ts';

/** Friday, 8 May 2026. */
const FRIDAY = '2026-05-08T15:30:00-05:00';
const AT = `at=${encodeURIComponent(FRIDAY)}`;

let t: TestApp;
let office: string;
let rest: RestClient;
const ids = { laboratory: v7(), cooler: v7(), visit: v7(), sample: v7(), nitrate: v7(), metals: v7(), loose: v7() };

async function push(drafts: readonly Draft[]): Promise<void> {
  const admin = await t.firm.client('admin');
  const outcomes = await admin.push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

function bottle(id: string, group: string, label: string, more: object = {}): Draft {
  const { event } = t.firm.ids;
  const set = { event, group, label, sample: ids.sample, type: 'bottle', volumeMl: '125', standing: 'filled', ...more };
  return { kind: 'container', id, set };
}

function fill(container: string, more: object = {}): Draft {
  const observed = t.firm.observed(FRIDAY);
  return { kind: 'fill', set: { container, visit: ids.visit, collected: FRIDAY, observed, ...more } };
}

beforeAll(async () => {
  t = await testApp();
  office = await t.token('coordinator');
  rest = new RestClient(t, office);
  const { event, lone, north } = t.firm.ids;
  const days = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday'];
  const receiving = days.map((day) => ({ day, from: '09:00', until: '17:00' }));
  await push([
    {
      kind: 'laboratory',
      id: ids.laboratory,
      set: { name: 'Example Laboratory', timeZone: 'America/Chicago', receiving },
    },
    { kind: 'analyte-suite', set: { name: 'ions', groups: [{ group: 'nitrate' }, { group: 'metals-total' }] } },
    { kind: 'cooler', id: ids.cooler, set: { event, number: 'C1', laboratory: ids.laboratory } },
    { kind: 'visit', id: ids.visit, set: { event, well: lone, crew: north, method: 'low-flow', arrived: FRIDAY } },
    { kind: 'sample', id: ids.sample, set: { visit: ids.visit, number: 'S-1', suites: ['ions'], collected: FRIDAY } },
    bottle(ids.metals, 'metals-total', 'S-1-M', { cooler: ids.cooler, preservatives: ['nitric-acid'] }),
    bottle(ids.nitrate, 'nitrate', 'S-1-N', { cooler: ids.cooler }),
    bottle(ids.loose, 'semivolatiles', 'S-1-S'),
    fill(ids.metals, { preserved: true }),
    fill(ids.nitrate),
    fill(ids.loose),
  ]);
});
afterAll(() => t.close());

describe('the clocks of an event', () => {
  it('come tightest first, with their basis, to whoever follows it', async () => {
    const { event, phone } = t.firm.ids;
    const url = `/events/${event}/deadlines?${AT}`;
    const { status, body } = await rest.get(url);
    expect(status).toBe(200);
    expect(body).toMatchObject({ event, at: FRIDAY, timeZone: 'America/Chicago', containers: 3, past: 0, next: null });
    expect(body.items.map(({ label }: { label: string }) => label)).toEqual(['S-1-N', 'S-1-S', 'S-1-M']);
    expect(body.items[0]).toMatchObject({
      container: ids.nitrate,
      wellName: 'W-1',
      number: 'S-1',
      laboratory: ids.laboratory,
      dueAt: '2026-05-10T20:30:00Z',
      clocks: [{ clock: 'collection-to-analysis', limitMinutes: 2880, basis: { catalog: 'nitrate/as-prescribed' } }],
    });
    const crew = new RestClient(t, await t.token('crew', phone));
    expect((await crew.get(url)).body).toEqual(body);
    const dashboard = new RestClient(t, await t.token('dashboard'));
    expect((await dashboard.get(url)).body).toEqual(body);
  });

  it('are narrowed by cooler, laboratory and hours, and come in parts', async () => {
    const { event } = t.firm.ids;
    const labels = async (query: string) => {
      const { body } = await rest.get(`/events/${event}/deadlines?${AT}&${query}`);
      return body.items.map(({ label }: { label: string }) => label);
    };
    expect(await labels(`cooler=${ids.cooler}`)).toEqual(['S-1-N', 'S-1-M']);
    expect(await labels(`laboratory=${v7()}`)).toEqual([]);
    expect(await labels('within=48')).toEqual(['S-1-N']);
    const first = (await rest.get(`/events/${event}/deadlines?${AT}&limit=2`)).body;
    expect(first.containers).toBe(3);
    expect(await labels(`limit=2&cursor=${first.next}`)).toEqual(['S-1-M']);
  });

  it('are refused where the question cannot be read, and missing of what is not in sight', async () => {
    const { event, otherPhone } = t.firm.ids;
    const bad = await rest.get(`/events/${event}/deadlines?within=soon`);
    expect([bad.status, bad.body.code]).toEqual([400, 'bad_request']);
    const other = new RestClient(t, await t.token('crew', otherPhone));
    expect((await other.get(`/events/${event}/deadlines`)).status).toBe(200);
    for (const address of [`/events/${v7()}/deadlines`, `/events/${v7()}/must-leave`, `/coolers/${event}/packing`]) {
      const { status, body } = await rest.get(address);
      expect([address, status, body.code]).toEqual([address, 404, 'record_missing']);
    }
    expect((await new RestClient(t, null).get(`/events/${event}/deadlines`)).status).toBe(401);
  });
});

describe('what must leave', () => {
  it('is said by event and at packing: nitrate of Friday 15:30 is received Monday 09:00, 65.5 h later', async () => {
    const { event } = t.firm.ids;
    const { body } = await rest.get(`/events/${event}/must-leave?${AT}`);
    expect(body).toMatchObject({ mustLeave: 0, tooLate: 1, timeZone: 'America/Chicago' });
    expect(body.shipments[0]).toMatchObject({ number: 'C1', receivedAt: '2026-05-11T14:00:00Z', containers: 2 });
    expect(body.shipments[0].clocks).toMatchObject([{ container: ids.nitrate, hoursAtReceipt: '65.5' }]);
    expect(body.shipments[1]).toMatchObject({ cooler: null, containers: 1, laboratoryName: 'Example Laboratory' });
    const packing = (await rest.get(`/coolers/${ids.cooler}/packing?${AT}`)).body;
    expect(packing).toMatchObject({ number: 'C1', event, transitHours: '24' });
    expect(packing.says[0]).toMatchObject({ code: 'misses-a-clock', severity: 'stop' });
    expect(packing.says[0].sentence).toContain('65.5 h after it was collected');
    const driven = (await rest.get(`/events/${event}/must-leave?${AT}&transitHours=1`)).body;
    expect(driven).toMatchObject({ mustLeave: 1, tooLate: 0 });
    expect(driven.shipments[0].handInBy).toBe('2026-05-08T21:00:00Z');
  });

  it('is answered the same by GraphQL', async () => {
    const { event } = t.firm.ids;
    const query = `query ($id: ID!, $cooler: ID!, $at: String!) {
      event(id: $id) {
        deadlines(at: $at) { containers items { containerId label dueAt clocks { clock written sentence } } }
        mustLeave(at: $at) { tooLate shipments { number receivedAt clocks { label hoursAtReceipt sentence } } }
      }
      cooler(id: $cooler) { packing(at: $at) { number says { code sentence } } }
    }`;
    const given = { id: event, cooler: ids.cooler, at: FRIDAY };
    // biome-ignore lint/suspicious/noExplicitAny: an answer has any form
    const { data, errors } = await ask<any>(t, office, query, given);
    expect(errors).toEqual([]);
    const [deadlines, mustLeave, packing] = await Promise.all(
      [`events/${event}/deadlines`, `events/${event}/must-leave`, `coolers/${ids.cooler}/packing`].map(
        async (path) => (await rest.get(`/${path}?${AT}`)).body,
      ),
    );
    const clocks = (one: { clocks: { clock: string; written: string; sentence: string }[] }) =>
      one.clocks.map(({ clock, written, sentence }) => ({
        clock: clock.toUpperCase().replaceAll('-', '_'),
        written,
        sentence,
      }));
    expect(data.event.deadlines.items).toEqual(
      // biome-ignore lint/suspicious/noExplicitAny: an answer has any form
      deadlines.items.map((one: any) => ({
        containerId: one.container,
        label: one.label,
        dueAt: one.dueAt,
        clocks: clocks(one),
      })),
    );
    expect(data.event.mustLeave).toMatchObject({
      tooLate: mustLeave.tooLate,
      shipments: [
        { number: 'C1', clocks: [{ hoursAtReceipt: '65.5', sentence: mustLeave.shipments[0].clocks[0].sentence }] },
        { number: null },
      ],
    });
    expect(data.cooler.packing.says).toEqual(
      packing.says.map(({ code, sentence }: { code: string; sentence: string }) => ({ code, sentence })),
    );
  });
});
