import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canonicalText, rowHash, xorHash } from '../../../src/protocol/content-hash.ts';
import { SCHEMA_VERSION } from '../../../src/protocol/version.ts';
import { recompute } from '../../../src/writes/recompute.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import type { OutcomeLike } from '../../support/test-firm.ts';
import { purgeDrafts } from '../../support/visit-drafts.ts';

const NEWER = SCHEMA_VERSION + 1;

let t: TestApp;
let token: string;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('coordinator', t.firm.ids.phone);
});
afterAll(() => t.close());

interface Draft {
  readonly verb?: string;
  readonly kind?: string;
  readonly id?: string;
  readonly set?: Readonly<Record<string, unknown>>;
  readonly [more: string]: unknown;
}

/** A phone whose app writes shapes of a version. */
class Phone {
  readonly client = randomUUID();
  readonly version: number;
  next = 1;

  constructor(version: number) {
    this.version = version;
  }

  async push(...drafts: readonly Draft[]): Promise<OutcomeLike[]> {
    const lines = drafts.map(({ verb = 'record', kind = 'unit', id = v7(), ...rest }, at) =>
      JSON.stringify({ mutationId: this.next + at, verb, kind, id, ...rest }),
    );
    this.next += lines.length;
    return pushLines(this.client, this.version, this.next - lines.length, lines);
  }
}

async function pushLines(client: string, schemaVersion: number, first: number, lines: readonly string[], more = {}) {
  const header = JSON.stringify({ client, schemaVersion, first, count: lines.length, ...more });
  const headers = { authorization: `Bearer ${token}`, 'content-type': 'application/x-ndjson' };
  const payload = `${[header, ...lines].join('\n')}\n`;
  const response = await t.app.inject({ method: 'POST', url: '/v1/sync/push', headers, payload });
  expect([response.statusCode, response.body]).toEqual([200, expect.any(String)]);
  return response.json().outcomes as OutcomeLike[];
}

async function get(url: string) {
  const response = await t.app.inject({ method: 'GET', url, headers: { authorization: `Bearer ${token}` } });
  expect([url, response.statusCode, response.body]).toEqual([url, 200, expect.any(String)]);
  return response.json();
}

interface FeedRow {
  readonly record?: { readonly id: string; readonly rev: number; readonly fields: Readonly<Record<string, unknown>> };
}

/** The record as a phone pulls it, whose hash is that of the feed with all others. */
async function pulled(id: string): Promise<Readonly<Record<string, unknown>>> {
  const page = await get('/v1/sync/feeds/firm/rows');
  const records = (page.rows as FeedRow[]).flatMap(({ record }) => record ?? []);
  const hashes = records.map((record) => rowHash(canonicalText(record)));
  expect(hashes.reduce(xorHash, '0000000000000000')).toBe(page.contentHash);
  return records.find((record) => record.id === id)?.fields ?? {};
}

const pump = { type: 'bladder-pump', label: 'Pump X', use: 'shared', ownership: 'owned' };
const beyond = { colour: 'green', service: { by: 'the shop', steps: [{ at: 3, done: true }, null] } };

describe('what a newer app writes', () => {
  it('[V3] is kept, hashed, told and shown, and goes on through changes by older apps and by the office', async () => {
    const [phone, older, id] = [new Phone(NEWER), new Phone(SCHEMA_VERSION), v7()];
    const [recorded] = await phone.push({
      id,
      set: { ...pump, ...beyond, wettedParts: [{ part: 'a', material: 'b', lot: 7 }] },
    });
    expect(recorded).toMatchObject({ outcome: 'applied', rev: 1 });
    const [amended] = await older.push({ verb: 'amend', id, base: { rev: 1 }, set: { label: 'Pump Y' } });
    expect(amended).toMatchObject({ outcome: expect.stringMatching(/applied|merged/), rev: 2 });
    const url = `/v1/units/${id}`;
    const office = { authorization: `Bearer ${token}` };
    const patch = await t.app.inject({
      method: 'PATCH',
      url,
      headers: office,
      payload: { serial: '12', base: { rev: 2 } },
    });
    expect([patch.statusCode, patch.body]).toEqual([200, expect.any(String)]);
    const all = {
      ...pump,
      ...beyond,
      label: 'Pump Y',
      serial: '12',
      wettedParts: [{ part: 'a', material: 'b', lot: 7 }],
    };
    expect(await pulled(id)).toEqual(all);
    expect((await get(url)).fields).toEqual(all);
    expect((await get('/v1/units?limit=100')).items.find((one: { id: string }) => one.id === id).fields).toEqual(all);
    const { items } = await get(`${url}/history`);
    expect(items.map((one: { record: FeedRow['record'] }) => one.record?.fields.colour)).toEqual([
      'green',
      'green',
      'green',
    ]);
    const typed = await t.db.bypass.query('select label, serial, wetted_parts from unit where id = $1', [id]);
    expect(typed.rows).toEqual([{ label: 'Pump Y', serial: '12', wetted_parts: all.wettedParts }]);
    expect((await phone.push({ verb: 'amend', id, base: { rev: 3 }, set: { colour: null } }))[0]).toMatchObject({
      rev: 4,
    });
    const { colour: _, ...rest } = all;
    expect(await pulled(id)).toEqual(rest);
  });

  it('[V3] merges like any field: two values are a conflict, and a person chooses', async () => {
    const [one, two, id] = [new Phone(NEWER), new Phone(NEWER), v7()];
    await one.push({ id, set: { ...pump, ...beyond } });
    await one.push({ verb: 'amend', id, base: { rev: 1 }, set: { colour: 'red' } });
    const [clash] = await two.push({ verb: 'amend', id, base: { rev: 1 }, set: { colour: { of: 'sky' } } });
    expect(clash).toMatchObject({ outcome: 'conflict_kept' });
    const [conflict = ''] = clash?.conflicts ?? [];
    const { fields, rev } = await get(`/v1/conflicts/${conflict}`);
    expect([fields.field, fields.shown.value, fields.kept[0].value]).toEqual(['colour', { of: 'sky' }, 'red']);
    const decide = (value: unknown): Draft => ({
      verb: 'resolve',
      kind: 'conflict',
      id: conflict,
      base: { rev },
      set: { value },
    });
    const office = new Phone(SCHEMA_VERSION);
    const [other, chosen] = await office.push(decide('blue'), decide('red'));
    expect(other).toMatchObject({ outcome: 'refused', code: 'unreadable_record' });
    expect(chosen).toMatchObject({ outcome: 'applied' });
    expect(await pulled(id)).toMatchObject({ colour: 'red' });
  });

  it('[M8] [V2] of an app that cannot say `neither`, a reason is enough for a value that nobody gave', async () => {
    for (const version of [1, 2]) {
      const [one, two, old, id] = [new Phone(2), new Phone(2), new Phone(version), v7()];
      await one.push({ id, set: pump });
      await one.push({ verb: 'amend', id, base: { rev: 1 }, set: { label: 'Pump A' } });
      const [clash] = await two.push({ verb: 'amend', id, base: { rev: 1 }, set: { label: 'Pump B' } });
      const [conflict = ''] = clash?.conflicts ?? [];
      const { rev } = await get(`/v1/conflicts/${conflict}`);
      const decide = { verb: 'resolve', kind: 'conflict', id: conflict, base: { rev }, set: { value: 'Pump C' } };
      const reason = 'painted anew';
      const today = await new Phone(SCHEMA_VERSION).push({ ...decide, reason });
      expect(today[0]).toMatchObject({ outcome: 'refused', code: 'unreadable_record' });
      const [bare, told] = await old.push(decide, { ...decide, reason });
      expect(bare).toMatchObject({ outcome: 'refused', code: 'unreadable_record' });
      expect(told).toMatchObject({ outcome: 'applied' });
      expect(await pulled(id)).toMatchObject({ label: 'Pump C' });
    }
  });

  it('[V3] goes along when its visit is moved to another event by an older app', async () => {
    const { firm } = t;
    const { drafts, ids } = purgeDrafts(firm);
    const weather = { sky: ['clear'] };
    await new Phone(NEWER).push(...drafts.map((draft) => ({ ...draft, set: { ...draft.set, weather } })));
    const event = v7();
    const { fields } = await get(`/v1/events/${firm.ids.event}`);
    const visit = { verb: 'rehome', kind: 'visit', id: ids.visit, base: { rev: 1 }, reason: 'wrong round' };
    const moved = await new Phone(SCHEMA_VERSION).push(
      { kind: 'event', id: event, set: { ...fields, name: 'Winter' } },
      { ...visit, set: { event } },
    );
    expect(moved.map(({ outcome }) => outcome)).toEqual(['applied', 'applied']);
    const { rows } = await get(`/v1/sync/feeds/event:${event}/rows`);
    const told = (rows as FeedRow[]).flatMap(({ record }) => (record && 'weather' in record.fields ? record.id : []));
    expect(told.sort()).toEqual(drafts.map(({ id }) => id).sort());
  });

  it('[V3] is kept inside of a plan', async () => {
    const { fields } = await get(`/v1/events/${t.firm.ids.event}`);
    const plan = { ...fields.plan, later: { option: ['a'] }, stabilization: { ...fields.plan.stabilization, also: 1 } };
    const id = v7();
    const [outcome] = await new Phone(NEWER).push({ kind: 'event', id, set: { ...fields, name: 'Autumn', plan } });
    expect(outcome).toMatchObject({ outcome: 'applied' });
    expect((await get(`/v1/events/${id}`)).fields.plan).toEqual(plan);
    const { rows } = await t.db.bypass.query('select plan from event where id = $1', [id]);
    expect(rows).toEqual([{ plan }]);
  });

  it('[V3] is answered once, whatever version a repetition names', async () => {
    const line = (set: object) => JSON.stringify({ mutationId: 1, verb: 'record', kind: 'unit', id: v7(), set });
    const [kept, strict] = [line({ ...pump, ...beyond }), line({ ...pump, ...beyond })];
    const [one, two] = [randomUUID(), randomUUID()];
    const first = await pushLines(one, NEWER, 1, [kept]);
    expect(first[0]).toMatchObject({ outcome: 'applied' });
    const refused = await pushLines(two, SCHEMA_VERSION, 1, [strict]);
    expect(refused[0]).toMatchObject({ outcome: 'set_aside', code: 'unreadable_record' });
    for (const version of [1, SCHEMA_VERSION, NEWER]) {
      expect(await pushLines(one, version, 1, [kept])).toEqual(first);
      expect(await pushLines(two, version, 1, [strict])).toEqual(refused);
    }
  });

  it('[V3] is taken with a header that says more than is known here', async () => {
    const line = JSON.stringify({ mutationId: 1, verb: 'record', kind: 'unit', id: v7(), set: { ...pump, ...beyond } });
    const sent = { wall: '2026-05-04T07:00:00-05:00', monotonicMs: 1, boot: 'b', battery: 3 };
    const [outcome] = await pushLines(randomUUID(), NEWER, 1, [line], { sent, app: { name: 'later' } });
    expect(outcome).toMatchObject({ outcome: 'applied' });
  });

  it('leaves a firm whose ledger and derived records are right', async () => {
    expect(await recompute(t.db.pool, t.firm.id)).toEqual([]);
  });
});
