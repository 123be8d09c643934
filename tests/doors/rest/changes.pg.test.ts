import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let admin: RestClient;
let office: RestClient;
let crew: RestClient;

beforeAll(async () => {
  t = await testApp();
  admin = new RestClient(t, await t.token('admin'));
  office = new RestClient(t, await t.token('coordinator'));
  crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
});
afterAll(() => t.close());

async function count(table: string): Promise<number> {
  const { rows } = await t.db.bypass.query(`select count(*)::int as n from ${table} where firm = $1`, [t.firm.id]);
  return rows[0].n;
}

async function newUnit(label: string): Promise<string> {
  const { body } = await admin.post('/units', { type: 'compressor', label, use: 'shared', ownership: 'rented' });
  return body.id;
}

async function newVisit(more: object = {}): Promise<string> {
  const { event, lone, north } = t.firm.ids;
  const arrived = '2026-05-04T09:00:00-05:00';
  const { body } = await crew.post('/visits', {
    event,
    well: lone,
    crew: north,
    method: 'gauging',
    arrived,
    ...more,
  });
  return body.id;
}

describe('reading one record', () => {
  it('answers 304 while the reader has it', async () => {
    const { body } = await admin.get(`/wells/${t.firm.ids.lone}`);
    const same = await admin.get(`/wells/${t.firm.ids.lone}`, { 'if-none-match': `W/"${body.rev}", "99"` });
    expect([same.status, same.text]).toEqual([304, '']);
    expect(same.headers.etag).toBe(`"${body.rev}"`);
    const other = await admin.get(`/wells/${t.firm.ids.lone}`, { 'if-none-match': '"99"' });
    expect(other.status).toBe(200);
  });
});

describe('an amendment', () => {
  it('needs to say what was seen, by If-Match or base', async () => {
    const id = await newUnit('C-1');
    const none = await admin.patch(`/units/${id}`, { label: 'C-1b' });
    expect([none.status, none.body.code]).toEqual([428, 'base_missing']);
    const stale = await admin.patch(`/units/${id}`, { label: 'C-1b' }, { 'if-match': '"7"' });
    expect([stale.status, stale.body.code, stale.body.present]).toEqual([412, 'revision_differs', '"1"']);
    const odd = await admin.patch(`/units/${id}`, { label: 'C-1b' }, { 'if-match': 'one' });
    expect([odd.status, odd.body.code]).toEqual([400, 'bad_request']);
    const done = await admin.patch(`/units/${id}`, { label: 'C-1b' }, { 'if-match': '"1"' });
    expect([done.status, done.body.outcome, done.headers.etag]).toEqual([200, 'applied', '"2"']);
    const read = await admin.get(`/units/${id}`);
    expect(read.body.fields).toMatchObject({ label: 'C-1b', type: 'compressor' });
  });

  it('of another field is merged, of the same one keeps both values; a person decides', async () => {
    const id = await newUnit('C-2');
    await admin.patch(`/units/${id}`, { label: 'C-2 red' }, { 'if-match': '"1"' });
    const merged = await office.patch(`/units/${id}`, { serial: 'X1', base: { rev: 1 } });
    expect([merged.status, merged.body.outcome]).toEqual([200, 'merged']);
    const kept = await office.patch(`/units/${id}`, { label: 'C-2 blue', base: { rev: 1 } });
    expect([kept.status, kept.body.outcome]).toEqual([200, 'conflict_kept']);
    const [conflict] = kept.body.conflicts;
    const seen = await office.get(`/conflicts/${conflict}`);
    expect(seen.body.fields.standing).toBe('open');
    const blind = await office.post(`/conflicts/${conflict}/resolve`, { value: 'C-2 blue' });
    expect([blind.status, blind.body.remedy]).toEqual([428, expect.stringContaining('"base": {"rev": 1}')]);
    const bare = await office.post(`/conflicts/${conflict}/resolve`, { value: 'C-2 blue', base: 1 });
    expect([bare.status, bare.body.detail]).toEqual([
      422,
      '/base was 1: an object such as {"rev":1} is expected, with the revision that you had seen',
    ]);
    expect(JSON.stringify(bare.body)).not.toContain('decimal');
    const etag = String(seen.headers.etag);
    const nobodys = await office.post(`/conflicts/${conflict}/resolve`, { value: 'C-9' }, { 'if-match': etag });
    expect([nobodys.status, nobodys.body.pointer]).toEqual([422, '/value']);
    expect(nobodys.body.detail).toContain('are in conflict: "C-2 blue", "C-2 red". Choose one of them');
    const decided = await office.post(`/conflicts/${conflict}/resolve`, { value: 'C-2 blue' }, { 'if-match': etag });
    expect([decided.status, decided.body.kind]).toEqual([200, 'resolution']);
    expect((await office.get(`/units/${id}`)).body.fields.label).toBe('C-2 blue');
    expect((await office.get(`/conflicts/${conflict}`)).body.fields.standing).toBe('resolved');
    const resolutions = await office.get(`/resolutions?under=${id}`);
    expect(resolutions.body.items[0].id).toBe(decided.body.id);
    const late = await office.post(`/conflicts/${conflict}/resolve`, { base: { rev: 2 }, value: 'x' });
    expect([late.status, late.body.code]).toEqual([422, 'not_a_conflict']);
  });

  it('of nothing, or of where a record lives, is refused with the status of its code', async () => {
    const id = await newVisit();
    const nothing = await crew.patch(`/visits/${id}`, { base: { rev: 1 } });
    expect([nothing.status, nothing.body.code]).toEqual([422, 'nothing_to_change']);
    const moved = await crew.patch(`/visits/${id}`, { base: { rev: 1 }, well: t.firm.ids.deep });
    expect([moved.status, moved.body.code, moved.body.pointer]).toEqual([422, 'home_fixed', '/well']);
  });

  it('of what was observed says why', async () => {
    const visit = await newVisit();
    const observed = t.firm.observed('2026-05-04T09:10:00-05:00');
    const { body } = await crew.post('/soundings', { visit, depthToBottomFt: '40.10', observed });
    const mute = await crew.patch(`/soundings/${body.id}`, { depthToBottomFt: '40.20', base: { rev: 1 } });
    expect([mute.status, mute.body.code, mute.body.pointer]).toEqual([422, 'unreadable_record', '/reason']);
    const clock = { wall: '2026-05-04T09:12:00-05:00', monotonicMs: 1_000, boot: 'b-1', sequence: 1 };
    const change = { depthToBottomFt: '40.20', base: { rev: 1 }, reason: 'typed a 1 for a 2', clock };
    expect((await crew.patch(`/soundings/${body.id}`, change)).status).toBe(200);
    const { body: history } = await crew.get(`/soundings/${body.id}/history`);
    expect(history.items).toHaveLength(2);
    expect(history.items[1]).toMatchObject({
      rev: 2,
      changes: [{ field: 'depthToBottomFt', was: '40.10', is: '40.20' }],
      record: { reason: 'typed a 1 for a 2', by: t.firm.ids.ann },
      receivedAt: '2026-05-04T12:00:00.000Z',
    });
    // by what its device said, whenever it came
    expect(history.items.map((one: { clock: unknown }) => one.clock)).toEqual([null, expect.objectContaining(clock)]);
    expect(history.items[0].record.fields.depthToBottomFt).toBe('40.10');
  });
});

describe('voiding and re-homing', () => {
  it('keeps the voided record readable, with the reason', async () => {
    const id = await newUnit('C-3');
    const mute = await admin.post(`/units/${id}/void`, {});
    expect([mute.status, mute.body.pointer]).toEqual([422, '/reason']);
    const stale = await admin.post(`/units/${id}/void`, { reason: 'never ours' }, { 'if-match': '"2"' });
    expect(stale.status).toBe(412);
    const done = await admin.post(`/units/${id}/void`, { reason: 'never ours' }, { 'if-match': '"1"' });
    expect(done.body).toMatchObject({ outcome: 'applied', rev: 2 });
    expect((await admin.get(`/units/${id}`)).body.voided).toEqual({ reason: 'never ours', by: null });
  });

  it('moves a visit with all under it', async () => {
    const id = await newVisit();
    const why = { reason: 'read the wrong tag' };
    const blind = await crew.post(`/visits/${id}/rehome`, { well: t.firm.ids.deep, ...why });
    expect([blind.status, blind.body.code]).toEqual([428, 'base_missing']);
    const none = await crew.post(`/visits/${id}/rehome`, why, { 'if-match': '"1"' });
    expect([none.status, none.body.code]).toEqual([422, 'nothing_to_change']);
    const { deep } = t.firm.ids;
    const done = await crew.post(`/visits/${id}/rehome`, { well: deep, base: { rev: 1 }, ...why });
    expect([done.status, done.body.outcome]).toEqual([200, 'applied']);
    const read = await crew.get(`/visits/${id}`);
    expect(read.body.fields.well).toBe(deep);
    const { body } = await crew.get(`/visits/${id}/history`);
    const { lone } = t.firm.ids;
    expect(body.items[1].changes).toEqual([{ field: 'well', was: lone, is: deep }]);
  });
});

describe('what waits', () => {
  it('is answered 202, kept as it came, listed for the office, and released by it', async () => {
    const id = v7();
    const body = { id, site: t.firm.ids.site, name: 'W-77', standing: 'in-service', depthsFrom: 'ground' };
    const kept = await crew.post('/wells', body);
    expect([kept.status, kept.body.outcome, kept.body.code]).toEqual([202, 'set_aside', 'right_missing']);
    expect((await crew.get('/set-asides')).status).toBe(403);
    const { body: list } = await office.get('/set-asides?standing=kept');
    const mine = list.items.find((one: { id: string }) => one.id === kept.body.setAside);
    expect(mine).toMatchObject({ code: 'right_missing', role: 'crew', person: t.firm.ids.ann, standing: 'kept' });
    expect(Buffer.from(mine.raw, 'base64').toString()).toBe(mine.text);
    expect(JSON.parse(mine.text)).toMatchObject({ verb: 'record', kind: 'well', id });
    const released = await office.post(`/set-asides/${mine.id}/release`);
    expect([released.status, released.body]).toEqual([200, expect.objectContaining({ outcome: 'applied', id })]);
    expect((await office.get(`/wells/${id}`)).body.by).toBe(t.firm.ids.ann);
    const again = await office.post(`/set-asides/${mine.id}/release`, { reason: 'twice' });
    expect([again.status, again.body.code]).toEqual([404, 'not_set_aside']);
    expect((await office.get(`/set-asides/${mine.id}`)).body.standing).toBe('released');
    expect((await office.get(`/set-asides/${v7()}`)).status).toBe(404);
  });

  it('shows bytes that are no text as bytes', async () => {
    const client = v7();
    const header = JSON.stringify({ client, schemaVersion: 1, first: 1, count: 1 });
    const payload = Buffer.concat([Buffer.from(`${header}\n`), Buffer.from([0xff, 0xfe]), Buffer.from('\n')]);
    await crew.post('/sync/push', payload, { 'content-type': 'application/x-ndjson' });
    const { body } = await office.get('/set-asides');
    const odd = body.items.find((one: { client: string }) => one.client === client);
    expect(odd).toMatchObject({ code: 'unreadable_text', raw: '//4=', text: null });
  });

  it('is applied when the record that it waits for comes', async () => {
    const visit = v7();
    const observed = t.firm.observed('2026-05-04T09:10:00-05:00');
    const early = await crew.post('/soundings', { visit, depthToBottomFt: '40.00', observed });
    expect([early.status, early.body.code]).toEqual([202, 'parent_missing']);
    await newVisit({ id: visit });
    expect((await crew.get(`/soundings/${early.body.id}`)).body.fields.depthToBottomFt).toBe('40.00');
  });

  it('pages through the list without missing or repeating any', async () => {
    for (let index = 0; index < 5; index++) {
      await crew.post('/nests', { site: t.firm.ids.site, name: `N ${index}` });
    }
    const all = (await office.get('/set-asides')).body.items.map((one: { id: string }) => one.id);
    const seen: string[] = [];
    let url: string | null = '/set-asides?limit=2';
    while (url) {
      const page = await office.get(url);
      seen.push(...page.body.items.map((one: { id: string }) => one.id));
      url = /<\/v1([^>]+)>; rel="next"/.exec(String(page.headers.link ?? ''))?.[1] ?? null;
    }
    expect(seen).toEqual(all);
    expect(seen.length).toBeGreaterThan(6);
  });
});

describe('a repeated request', () => {
  const unit = { type: 'compressor', label: 'C-9', use: 'shared', ownership: 'owned' };

  it('is done once, and answered with the same bytes and status', async () => {
    const key = { 'idempotency-key': 'first try of unit C-9' };
    const before = await count('unit');
    const once = await admin.post('/units', unit, key);
    // another order of fields is the same content
    const again = await admin.post('/units', Object.fromEntries(Object.entries(unit).reverse()), key);
    expect([once.status, once.headers['idempotent-replay']]).toEqual([201, undefined]);
    expect([again.status, again.headers['idempotent-replay']]).toEqual([201, 'true']);
    expect(again.text).toBe(once.text);
    expect(again.headers.location).toBe(once.headers.location);
    expect(await count('unit')).toBe(before + 1);
  });

  it('with other content is refused', async () => {
    const key = { 'idempotency-key': 'first try of unit C-9' };
    const other = await admin.post('/units', { ...unit, label: 'C-10' }, key);
    expect([other.status, other.body.code]).toEqual([422, 'key_reused']);
    const elsewhere = await office.post('/units', { ...unit, label: 'C-10' }, key);
    expect([elsewhere.status, elsewhere.body.outcome]).toEqual([201, 'applied']);
  });

  it('meets its receipt though the record has moved on since', async () => {
    const id = await newUnit('C-11');
    const headers = { 'idempotency-key': 'label of C-11', 'if-match': '"1"' };
    const once = await admin.patch(`/units/${id}`, { label: 'C-11b' }, headers);
    await admin.patch(`/units/${id}`, { label: 'C-11c' }, { 'if-match': '"2"' });
    const again = await admin.patch(`/units/${id}`, { label: 'C-11b' }, headers);
    expect([again.status, again.text, again.headers['idempotent-replay']]).toEqual([200, once.text, 'true']);
    expect((await admin.get(`/units/${id}`)).body.fields.label).toBe('C-11c');
  });

  it('is refused again where it was refused, and set aside once where it was set aside', async () => {
    const id = await newVisit();
    const key = { 'idempotency-key': 'nothing', 'if-match': '"1"' };
    const once = await crew.patch(`/visits/${id}`, {}, key);
    const again = await crew.patch(`/visits/${id}`, {}, key);
    expect([once.status, again.status, again.headers['idempotent-replay']]).toEqual([422, 422, 'true']);
    const before = await count('set_aside');
    const nest = { site: t.firm.ids.site, name: 'Nest 99' };
    const kept = await crew.post('/nests', nest, { 'idempotency-key': 'nest' });
    const same = await crew.post('/nests', nest, { 'idempotency-key': 'nest' });
    expect([kept.status, same.status, same.text]).toEqual([202, 202, kept.text]);
    expect(await count('set_aside')).toBe(before + 1);
  });

  it('without a key is a request of its own', async () => {
    const [a, b] = [await admin.post('/units', unit), await admin.post('/units', unit)];
    expect(a.body.id).not.toBe(b.body.id);
    const clients = await t.db.bypass.query('select count(*)::int as n from client where firm = $1', [t.firm.id]);
    const phones = clients.rows[0].n;
    await admin.post('/units', unit);
    expect(await count('client')).toBe(phones);
  });

  it('may come many times at once', async () => {
    const key = { 'idempotency-key': 'at once' };
    const answers = await Promise.all(Array.from({ length: 8 }, () => admin.post('/units', unit, key)));
    expect(new Set(answers.map((answer) => answer.text)).size).toBe(1);
    expect(answers.filter((answer) => answer.headers['idempotent-replay'] === undefined)).toHaveLength(1);
  });
});
