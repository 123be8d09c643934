import ICAL from 'ical.js';
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

describe('the calendar', () => {
  const read = async (query = '') => {
    const answer = await rest.get(`/events/${t.firm.ids.event}/deadlines.ics${query}`);
    expect(answer.status).toBe(200);
    const entries = new ICAL.Component(ICAL.parse(answer.text)).getAllSubcomponents('vevent');
    return { answer, entries: entries.map((one) => new ICAL.Event(one)) };
  };
  const status = (one: InstanceType<typeof ICAL.Event>) => one.component.getFirstPropertyValue('status');

  it('is read by another parser: each deadline of the laboratory once, by its UTC instant', async () => {
    const { answer, entries } = await read();
    expect(answer.headers['content-type']).toBe('text/calendar; charset=utf-8; method=PUBLISH');
    expect(answer.text.split('\r\n').filter((line) => Buffer.byteLength(line) > 75)).toEqual([]);
    expect(entries.map(({ summary }) => summary)).toEqual([
      'Nitrate of S-1 from W-1: 48 h end',
      expect.stringContaining('of S-1 from W-1: 7 d end'),
      expect.stringContaining('of S-1 from W-1: 6 months, read as 180 d end'),
    ]);
    expect(entries[0]?.startDate.toJSDate().toISOString()).toBe('2026-05-10T20:30:00.000Z');
    expect(entries[0]?.location).toBe('Example Laboratory');
    expect(entries.map(status)).toEqual(['CONFIRMED', 'CONFIRMED', 'CONFIRMED']);
    expect(String(entries[0]?.component.getFirstPropertyValue('dtstamp'))).toBe('2026-05-04T12:00:00Z');
    expect((await read(`?cooler=${ids.cooler}`)).entries).toHaveLength(2);
    expect((await read()).answer.text).toBe(answer.text);
  });

  it('keeps the UID and raises the SEQUENCE when a fill is corrected or voided, and takes hostile text for text', async () => {
    const before = (await read()).entries[2];
    const moved = '2026-05-08T16:00:00-05:00';
    const id = v7();
    const more = { container: ids.metals, collected: moved, observed: t.firm.observed(moved), preserved: true };
    t.firm.nowMs += 60_000;
    await push([{ kind: 'fill', id, set: more }]);
    const doubled = (await read()).entries[2];
    await push([{ verb: 'void', kind: 'fill', id, base: { rev: 1 }, reason: 'of another bottle' }]);
    const after = (await read()).entries[2];
    expect([doubled?.uid, after?.uid]).toEqual([before?.uid, before?.uid]);
    expect([doubled?.sequence, after?.sequence]).toEqual([Number(before?.sequence) + 1, Number(before?.sequence) + 2]);
    expect(String(after?.component.getFirstPropertyValue('dtstamp'))).toBe('2026-05-04T12:01:00Z');
    const label = 'x\r\nEND:VEVENT\r\nBEGIN:VEVENT;,\\';
    await push([{ verb: 'amend', kind: 'container', id: ids.loose, base: { rev: 1 }, set: { label } }]);
    const { entries } = await read();
    expect(entries).toHaveLength(3);
    expect(entries[1]?.description).toContain('in x\nEND:VEVENT\nBEGIN:VEVENT;,\\: to be');
  });

  it('does not strike what was received and is still to be analysed, unless what is awaited is asked for', async () => {
    const received = '2026-05-09T10:00:00-05:00';
    const set = { event: t.firm.ids.event, cooler: ids.cooler, received, observed: t.firm.observed(received) };
    await push([{ kind: 'sample-receipt', set: { ...set, temperatureC: '4.0' } }]);
    expect((await read()).entries.map(status)).toEqual(['CONFIRMED', 'CONFIRMED', 'CONFIRMED']);
    expect((await read('?which=all')).entries.map(status)).toEqual(['CONFIRMED', 'CONFIRMED', 'CONFIRMED']);
    expect((await read('?which=awaited')).entries.map(status)).toEqual(['CANCELLED', 'CONFIRMED', 'CANCELLED']);
    const url = `/events/${t.firm.ids.event}/deadlines?at=${encodeURIComponent('2026-05-11T15:30:00-05:00')}`;
    const { body } = await rest.get(url);
    expect([body.containers, body.past]).toEqual([3, 1]);
    const awaited = (await rest.get(`${url}&which=awaited`)).body;
    expect(awaited.items.map(({ container }: { container: string }) => container)).toEqual([ids.loose]);
  });
});

describe('the completeness of an event', () => {
  it('is told by REST and GraphQL alike, with what lacks', async () => {
    const { event } = t.firm.ids;
    const { body } = await rest.get(`/events/${event}/completeness`);
    expect(body.totals).toMatchObject({ samples: 1, expected: 3, collected: 3, received: 2, percentReceived: '66.6' });
    const query = `query ($id: ID!) { event(id: $id) { completeness {
      totals { samples expected received percentReceived } wells { name samples { number suites { suite lacking { what label } } } } } } }`;
    // biome-ignore lint/suspicious/noExplicitAny: an answer has any form
    const { data, errors } = await ask<any>(t, office, query, { id: event });
    expect(errors).toEqual([]);
    const { samples, expected, received, percentReceived } = body.totals;
    expect(data.event.completeness.totals).toEqual({ samples, expected, received, percentReceived });
    expect(data.event.completeness.wells).toMatchObject([
      {
        name: 'W-1',
        samples: [
          {
            number: 'S-1',
            suites: [{ suite: 'ions', lacking: [{ what: 'NOT_RESULTED', label: null }] }, { suite: null }],
          },
        ],
      },
    ]);
    expect((await rest.get(`/events/${v7()}/completeness`)).status).toBe(404);
  });

  it('tells by REST and GraphQL alike which samples a field blank questions', async () => {
    const { event } = t.firm.ids;
    const [blank, at] = [v7(), '2026-05-08T15:30:00-05:00'];
    const set = { event, number: 'FB-1', type: 'field', suites: ['ions'], collected: at };
    const result = { event, blank, analyte: 'Nitrate', value: '0.8', unit: 'mg/L', condition: 'detected' };
    await push([
      { kind: 'blank', id: blank, set },
      { kind: 'laboratory-result', set: { ...result, observed: t.firm.observed(at) } },
    ]);
    const { body } = await rest.get(`/events/${event}/completeness`);
    expect(body.questionedByBlanks).toMatchObject([
      { blank, number: 'FB-1', type: 'field', analyte: 'Nitrate', cannotTell: 1, samples: [{ number: 'S-1' }] },
    ]);
    const query = `query ($id: ID!) { event(id: $id) { completeness {
      questionedByBlanks { type sentence blankId samples { number standing sentence } } } } }`;
    // biome-ignore lint/suspicious/noExplicitAny: an answer has any form
    const { data, errors } = await ask<any>(t, office, query, { id: event });
    expect(errors).toEqual([]);
    const [{ sentence, samples }] = body.questionedByBlanks;
    expect(data.event.completeness.questionedByBlanks).toEqual([
      {
        type: 'FIELD',
        sentence,
        blankId: blank,
        samples: [{ number: 'S-1', standing: 'CANNOT_TELL', sentence: samples[0].sentence }],
      },
    ]);
  });
});
