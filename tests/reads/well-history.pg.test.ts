import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FieldClient, openClient } from '../../src/client/client.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { historyAt, lastRoundAt, unlikeAt } from '../../src/client/well-rounds.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Draft, TestClient } from '../support/test-firm.ts';

let server: TestApp;
let phone: FieldClient;
let signal = true;
let token: string;
const points = { first: v7(), cut: v7() };

const clock = { wall: () => new Date(server.firm.nowMs).toISOString(), monotonicMs: () => 1_000, boot: 'boot-1' };

async function openPhone(secret: string): Promise<FieldClient> {
  const transport = httpTransport({
    base: 'http://server',
    token: secret,
    fetch: async (url, { method, headers, body }) => {
      if (!signal) throw new Error('no signal');
      const payload = body === undefined ? {} : { payload: body };
      const answer = await server.app.inject({ method, url: url.replace('http://server', ''), headers, ...payload });
      const header = (name: string) => answer.headers[name];
      return {
        status: answer.statusCode,
        headers: { get: (name) => (header(name) === undefined ? null : String(header(name))) },
        text: async () => answer.body,
      };
    },
  });
  return openClient({ store: memoryStore(), transport, time: clock, newId: v7 });
}

/** A round of an earlier year, in an event of its own: one visit of the lone well, with all that a summary tells. */
function round(year: number, index: number): Draft[] {
  const { site, lone, north, pump, meter } = server.firm.ids;
  const [event, visit, purge] = [v7(), v7(), v7()];
  const at = (time: string) => `${year}-05-04T${time}:00-05:00`;
  const observed = (time: string) => server.firm.observed(at(time));
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const dates = { starts: `${year}-05-04`, ends: `${year}-05-04`, standing: 'closed' };
  const measuringPoint = year < 2022 ? points.first : points.cut;
  const level = { purpose: 'before-purge', state: 'measured', depthToWaterFt: `12.${10 + index}`, measuringPoint };
  const set = { event, well: lone, crew: north, method: 'low-flow', arrived: at('09:30') };
  const hung = { pump, intakeDepthFt: '35.0', drivePressurePsi: '30', refillS: '10', dischargeS: '5' };
  const values = { ph: `6.9${index % 4}`, specificConductanceUsPerCm: String(600 + index), flowMlPerMin: '200' };
  return [
    { kind: 'event', id: event, set: { site, name: `Round of ${year}`, ...dates, plan } },
    { kind: 'visit', id: visit, set },
    { kind: 'water-level', set: { visit, ...level, observed: observed('09:40') } },
    { kind: 'pump-set-up', set: { visit, ...hung, observed: observed('09:50') } },
    { kind: 'purge', id: purge, set: { visit, began: at('10:00') } },
    { kind: 'reading', set: { purge, meter, ...values, observed: observed('10:05') } },
    { verb: 'amend', kind: 'visit', id: visit, set: { outcome: 'sampled', left: at('11:00') } },
  ];
}

async function pushAll(client: TestClient, drafts: readonly Draft[]): Promise<void> {
  const bad = (await client.push(...drafts)).filter(({ outcome }) => outcome !== 'applied');
  expect(bad).toEqual([]);
}

beforeAll(async () => {
  server = await testApp();
  const office = await server.firm.client('coordinator');
  const point = (id: string, validFrom: string, change: string, elevationFt: string): Draft => {
    const set = { well: server.firm.ids.lone, description: 'notch', datum: 'NAVD 88', validFrom, change, elevationFt };
    return { kind: 'measuring-point', id, set };
  };
  await pushAll(office, [
    point(points.first, '2010-01-01T00:00:00Z', 'first', '102.50'),
    point(points.cut, '2022-01-01T00:00:00Z', 'casing-changed', '102.00'),
    ...Array.from({ length: 9 }, (_, index) => round(2016 + index, index)).flat(),
  ]);
  token = await server.token('crew', server.firm.ids.phone);
  phone = await openPhone(token);
  expect((await syncOnce(phone)).problem).toBeNull();
  signal = false;
});
afterAll(() => server.close());

async function ask(path: string, secret = token): Promise<{ status: number; body: unknown }> {
  const url = `/v1/wells/${server.firm.ids.lone}/${path}`;
  const answer = await server.app.inject({ url, headers: { authorization: `Bearer ${secret}` } });
  return { status: answer.statusCode, body: answer.json() };
}

describe('the earlier rounds of a well', () => {
  it('are told alike by the server and by a phone without a signal: the last round', async () => {
    const { status, body } = await ask('last-round?depthToWaterFt=12.60');
    expect(status).toBe(200);
    expect(body).toEqual(await lastRoundAt(phone.context, server.firm.ids.lone, { depthToWaterFt: '12.60' }));
    expect(body).toMatchObject({
      eventName: 'Round of 2024',
      intakeDepthFt: '35.0',
      flowMlPerMin: '200',
      drivePressurePsi: '30',
      refused: null,
    });
  });

  it('are told alike: what is unlike this well, with the depths below a cut casing', async () => {
    const { status, body } = await ask('unlike?depthToWaterFt=11.70&ph=4.10');
    expect(status).toBe(200);
    expect(body).toEqual(await unlikeAt(phone.context, server.firm.ids.lone, { depthToWaterFt: '11.70', ph: '4.10' }));
    expect(body).toMatchObject({
      unlike: true,
      comparisons: [
        {
          field: 'depthToWaterFt',
          finding: 'like',
          earlierRounds: 9,
          sentence: expect.stringContaining('11.6 to 12.18'),
        },
        { field: 'ph', finding: 'unlike' },
      ],
      leftOut: [],
    });
  });

  it('are told alike: what one quantity did over the years', async () => {
    const { status, body } = await ask('rounds?quantity=specificConductanceUsPerCm');
    expect(status).toBe(200);
    const asked = { quantity: 'specificConductanceUsPerCm' } as const;
    expect(body).toEqual(await historyAt(phone.context, server.firm.ids.lone, asked));
    expect(body).toMatchObject({ least: '600', median: '604', most: '608', trend: { direction: 'rising', s: 36 } });
  });

  it('are those of the water level where no quantity is named', async () => {
    const { status, body } = await ask('rounds');
    expect(status).toBe(200);
    expect(body).toEqual(await historyAt(phone.context, server.firm.ids.lone, { quantity: 'depthToWaterFt' }));
    expect(body).toMatchObject({ quantity: 'depthToWaterFt', unit: 'ft', least: '11.6', most: '12.18' });
  });

  it('are unknown where a phone has never heard of the well, and it says so', async () => {
    expect(await lastRoundAt(phone.context, v7())).toMatchObject({
      refused: expect.stringContaining('No earlier visit'),
    });
  });

  it('are refused by name where the question is not one', async () => {
    expect(await ask('rounds?quantity=colour')).toMatchObject({ status: 400, body: { code: 'bad_request' } });
    expect(await ask('unlike?ph=acid')).toMatchObject({ status: 400 });
  });

  it('are there for who follows the site, and for nobody else', async () => {
    const stranger = v7();
    await pushAll(await server.firm.client('admin'), [{ kind: 'crew', id: stranger, set: { name: 'Stranger' } }]);
    const device = v7();
    const set = { label: 'Phone 9', crew: stranger };
    await pushAll(await server.firm.client('admin'), [{ kind: 'device', id: device, set }]);
    for (const path of ['last-round', 'unlike?ph=7', 'rounds?quantity=ph']) {
      expect(await ask(path, await server.token('crew', device))).toMatchObject({
        status: 404,
        body: { code: 'record_missing' },
      });
      expect((await ask(path, await server.token('dashboard'))).status).toBe(200);
    }
  });

  it('follow what is corrected: a later round that is voided is told no more', async () => {
    const { body } = await ask('last-round');
    const { visit } = body as { visit: string };
    await pushAll(await server.firm.client('coordinator'), [
      { verb: 'void', kind: 'visit', id: visit, base: { rev: 2 }, reason: 'it never was' },
    ]);
    expect((await ask('last-round')).body).toMatchObject({ eventName: 'Round of 2023' });
    expect(await lastRoundAt(phone.context, server.firm.ids.lone)).toMatchObject({ eventName: 'Round of 2024' });
    signal = true;
    await syncOnce(phone);
    expect(await lastRoundAt(phone.context, server.firm.ids.lone)).toEqual((await ask('last-round')).body);
  });
});
