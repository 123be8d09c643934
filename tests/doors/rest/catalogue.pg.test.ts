import pino from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openApp } from '../../../src/app.ts';
import { criteriaSets } from '../../../src/catalog/criteria-sets.ts';
import { CODES } from '../../../src/protocol/codes.ts';
import { KINDS } from '../../../src/protocol/kinds-by-name.ts';
import { LIMITS, QUERY_LIMITS } from '../../../src/protocol/limits.ts';
import { EQUIPMENT_RULES } from '../../../src/rules/equipment/faults.ts';
import { DEVICE_CLOCK_RULE } from '../../../src/rules/flags/device-clock-flag.ts';
import { FLAG_RULES } from '../../../src/rules/flags/flag-rules.ts';
import { SECOND_PURGE_RULE } from '../../../src/rules/flags/second-purge-rule.ts';
import { KIT_RULES } from '../../../src/rules/kit/kit-rules.ts';
import { openRecords } from '../../../src/store/records.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { ask } from '../graphql/ask.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let token: string;
let reader: RestClient;
let nobody: RestClient;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
  reader = new RestClient(t, token);
  nobody = new RestClient(t, null);
});
afterAll(() => t.close());

describe('the catalogue', () => {
  it('lists the kinds with the JSON Schema of their fields', async () => {
    const { body } = await reader.get('/kinds');
    expect(body.items.map((kind: { name: string }) => kind.name)).toEqual(KINDS.map((kind) => kind.name));
    const well = body.items.find((kind: { name: string }) => kind.name === 'well');
    expect(well).toMatchObject({ plural: 'wells', family: 'fact', writers: ['coordinator', 'admin'] });
    expect(well.fields.required).toEqual(['site', 'name', 'standing', 'depthsFrom']);
    expect(well.fields.additionalProperties).toBe(false);
  });

  it('lists limits and codes to everyone, each code under the address that a problem names', async () => {
    expect((await nobody.get('/limits')).body).toMatchObject({ ...LIMITS, 'query.depth': QUERY_LIMITS.depth });
    const { body } = await nobody.get('/problems');
    expect(body.items.map((entry: { code: string }) => entry.code)).toEqual(Object.keys(CODES));
    const { body: problem } = await nobody.get('/wells');
    const entry = await nobody.get(String(problem.type).slice(3));
    expect(entry.body).toEqual({ code: 'unauthenticated', ...CODES.unauthenticated });
    for (const code of ['nonsense', 'constructor']) expect((await nobody.get(`/problems/${code}`)).status).toBe(404);
  });

  it('lists criteria sets and flag rules with their sources', async () => {
    const { body } = await reader.get('/criteria-sets');
    expect(body.items.map((set: { id: string }) => set.id)).toEqual(criteriaSets.map((set) => set.id));
    const [first] = criteriaSets;
    const one = await reader.get(`/criteria-sets/${first?.id}`);
    expect(one.body).toMatchObject({ id: first?.id, source: first?.source, verified: false });
    expect((await reader.get('/criteria-sets/none')).body.code).toBe('not_found');
    const rules = await reader.get('/flag-rules');
    expect(rules.body.items.length).toBeGreaterThan(15);
    for (const rule of rules.body.items) expect(rule.source).not.toBe('');
  });

  it('tells every rule that asks something once, with what it is about and how many cases show it, by both doors', async () => {
    const { items } = (await reader.get('/flag-rules')).body as { items: Record<string, unknown>[] };
    const codes = items.map(({ code }) => code);
    expect(new Set(codes).size).toBe(codes.length);
    for (const { code } of [...FLAG_RULES, ...EQUIPMENT_RULES, ...KIT_RULES, SECOND_PURGE_RULE, DEVICE_CLOCK_RULE])
      expect(codes).toContain(code);
    for (const rule of items) {
      if (rule.about !== 'device') expect(rule.vectors).toBeGreaterThan(1);
      if (rule.about !== 'sample') expect(rule.methods === null).toBe(rule.about !== 'visit');
    }
    expect(items.find(({ code }) => code === 'used-unit-into-well')).toMatchObject({ about: 'equipment' });
    const tonight = (await reader.get('/flag-rules?about=equipment&addressee=tonight')).body.items;
    expect(tonight).toEqual(items.filter((one) => one.about === 'equipment' && one.addressee === 'tonight'));
    expect(tonight.length).toBeGreaterThan(0);
    expect((await reader.get('/flag-rules?about=weather')).status).toBe(400);
    const fields = 'code title about severity addressee methods source verified vectors';
    const { data } = await ask<{ all: object[]; kit: { code: string }[] }>(
      t,
      token,
      `{ all: flagRules { ${fields} } kit: flagRules(about: KIT) { code } }`,
    );
    const lower = (value: unknown): unknown =>
      typeof value === 'string' && /^[A-Z_]+$/.test(value) ? value.toLowerCase().replaceAll('_', '-') : value;
    const plain = data.all.map((rule) =>
      Object.fromEntries(
        Object.entries(rule).map(([name, value]) => [name, Array.isArray(value) ? value.map(lower) : lower(value)]),
      ),
    );
    expect(plain).toEqual(items);
    expect(data.kit.map(({ code }) => code)).toEqual(KIT_RULES.map(({ code }) => code));
  });
});

describe('the question before the pump goes in', () => {
  const ask = (well: string, depthToBottomFt: string) =>
    reader.post('/questions/which-well', { well, depthToBottomFt });

  it('is answered from the stored well and its nest', async () => {
    const { shallow, deep, lone } = t.firm.ids;
    expect((await ask(shallow, '61.6')).body).toMatchObject({ fits: 'other', other: deep, misses: 'deeper' });
    expect((await ask(shallow, '25.2')).body.fits).toBe('this');
    const none = await ask(lone, '61.6');
    expect([none.status, none.body.fits]).toEqual([200, 'none']);
    expect(none.body.sentence).toContain('W-1');
  });

  it('says what it cannot read, and does not know of void wells', async () => {
    expect((await ask(t.firm.ids.lone, '61.6 ft')).body.pointer).toBe('/depthToBottomFt');
    const admin = new RestClient(t, await t.token('admin'));
    const { shallow, deep } = t.firm.ids;
    await admin.post(`/wells/${deep}/void`, { reason: 'never drilled' });
    expect((await ask(deep, '61.6')).status).toBe(404);
    expect((await ask(shallow, '61.6')).body.fits).toBe('none');
  });
});

describe('the probes', () => {
  it('say that the process lives and that it can work', async () => {
    expect((await t.app.inject({ url: '/livez' })).json()).toEqual({ live: true });
    const ready = await t.app.inject({ url: '/readyz' });
    expect([ready.statusCode, ready.json()]).toEqual([200, { ready: true, reasons: [] }]);
  });

  it('say why it cannot, while it lives', async () => {
    const pool = { query: () => Promise.reject(new Error('connection refused')) } as unknown as typeof t.db.pool;
    const ctx = { pool, records: openRecords(t.db.pool), lane: t.firm.lane, now: () => new Date(t.firm.nowMs) };
    const app = await openApp(ctx, pino({ level: 'silent' }));
    expect((await app.inject({ url: '/livez' })).statusCode).toBe(200);
    const ready = await app.inject({ url: '/readyz' });
    expect([ready.statusCode, ready.json().ready]).toEqual([503, false]);
    expect(ready.json().reasons[0]).toContain('the database does not answer');
    expect(ready.body).not.toContain('refused');
    await app.close();
  });
});

describe('the rate limit', () => {
  it('is counted per token, and answers with a problem that says when to go on', async () => {
    const records = openRecords(t.db.pool);
    const ctx = { pool: t.db.pool, records, lane: t.firm.lane, now: () => new Date(t.firm.nowMs) };
    const app = await openApp(ctx, pino({ level: 'silent' }), { requestsPerMinute: 3 });
    const [one, other] = [await t.token('dashboard'), await t.token('dashboard')];
    const get = (secret: string) => app.inject({ url: '/v1/me', headers: { authorization: `Bearer ${secret}` } });
    for (let index = 0; index < 3; index++) expect((await get(one)).statusCode).toBe(200);
    const over = await get(one);
    expect([over.statusCode, over.json().code, over.json().limit]).toEqual([429, 'too_many', 3]);
    expect(over.headers['content-type']).toContain('application/problem+json');
    expect(Number(over.headers['retry-after'])).toBeGreaterThan(1);
    expect((await get(other)).statusCode).toBe(200);
    await app.close();
  });
});

describe('a server whose route does not say who may use it', () => {
  it('does not start', async () => {
    const ctx = { pool: t.db.pool, records: openRecords(t.db.pool), lane: t.firm.lane, now: () => new Date() };
    const app = await openApp(ctx, pino({ level: 'silent' }));
    app.get('/v1/forgotten', () => 'anything');
    await expect(app.ready()).rejects.toThrow('/v1/forgotten does not say who may use it');
  });
});
