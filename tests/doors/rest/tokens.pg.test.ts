import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let admin: RestClient;
let office: RestClient;

beforeAll(async () => {
  t = await testApp();
  admin = new RestClient(t, await t.token('admin'));
  office = new RestClient(t, await t.token('coordinator'));
});
afterAll(() => t.close());

describe('a token', () => {
  it('is issued with its secret once, works, is listed without it, and is withdrawn at once', async () => {
    const { phone } = t.firm.ids;
    const issued = await office.post('/tokens', { label: 'Phone 1', role: 'crew', device: phone });
    expect([issued.status, issued.headers['cache-control']]).toEqual([201, 'no-store']);
    const { secret, ...shown } = issued.body;
    expect(secret).toMatch(/^wrt_[\w-]{43}$/);
    const phoneClient = new RestClient(t, secret);
    expect((await phoneClient.get('/me')).body).toMatchObject({ token: shown.id, role: 'crew', device: { id: phone } });
    expect((await office.get(String(issued.headers.location).slice(3))).body).toEqual(shown);
    const list = await office.get('/tokens');
    expect(list.body.items).toContainEqual(shown);
    expect(list.text).not.toContain('secret');
    expect(list.text).not.toContain('hash');
    const revoked = await office.post(`/tokens/${shown.id}/revoke`);
    expect(revoked.body.revokedAt).toBe('2026-05-04T12:00:00.000Z');
    const after = await phoneClient.get('/me');
    expect([after.status, after.body.detail]).toEqual([401, 'the token was revoked']);
  });

  it('has no more right than whoever issues it', async () => {
    for (const role of ['admin', 'coordinator']) {
      const { status, body } = await office.post('/tokens', { label: 'Mine', role });
      expect([status, body.code]).toEqual([403, 'forbidden']);
      expect((await admin.post('/tokens', { label: 'Yours', role })).status).toBe(201);
    }
    const above = await admin.post('/tokens', { label: 'Second admin', role: 'admin' });
    expect((await office.post(`/tokens/${above.body.id}/revoke`)).status).toBe(403);
    expect((await admin.post(`/tokens/${above.body.id}/revoke`)).status).toBe(200);
    const crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
    expect((await crew.post('/tokens', { label: 'X', role: 'crew' })).status).toBe(403);
    expect((await crew.get('/tokens')).status).toBe(403);
  });

  it('is for a device of the firm and a time to come', async () => {
    const stray = await admin.post('/tokens', { label: 'P', role: 'crew', device: t.firm.ids.lone });
    expect([stray.status, stray.body.pointer]).toEqual([422, '/device']);
    const past = await admin.post('/tokens', { label: 'P', role: 'crew', expiresAt: '2026-05-04T12:00:00Z' });
    expect([past.status, past.body.pointer]).toEqual([422, '/expiresAt']);
    const expiresAt = '2026-05-04T13:00:00Z';
    const { body } = await admin.post('/tokens', { label: 'P', role: 'dashboard', expiresAt });
    const screen = new RestClient(t, body.secret);
    expect((await screen.get('/me')).status).toBe(200);
    t.firm.nowMs += 3_600_000;
    const late = await screen.get('/me');
    t.firm.nowMs -= 3_600_000;
    expect([late.status, late.body.code]).toEqual([401, 'token_expired']);
  });

  it('of a crew speaks for a device: without one it would follow no event, so it is not issued', async () => {
    const { status, body } = await admin.post('/tokens', { label: 'Phone 9', role: 'crew' });
    expect([status, body.code, body.pointer]).toEqual([422, 'unreadable_record', '/device']);
    expect(body.detail).toContain('a crew token speaks for a device');
  });

  it('of a laboratory names its record, is issued by the office, and reads nothing of the firm', async () => {
    const fields = { name: 'Testlab', timeZone: 'America/Chicago', receiving: [] };
    const { body: made } = await office.post('/laboratories', fields);
    const without = await office.post('/tokens', { label: 'Testlab', role: 'laboratory' });
    expect([without.status, without.body.pointer]).toEqual([422, '/laboratory']);
    const named = { label: 'Testlab', role: 'laboratory', laboratory: made.id };
    const stray = await office.post('/tokens', { ...named, laboratory: t.firm.ids.lone });
    expect([stray.status, stray.body.pointer]).toEqual([422, '/laboratory']);
    const ofCrew = await office.post('/tokens', { ...named, role: 'dashboard' });
    expect([ofCrew.status, ofCrew.body.pointer]).toEqual([422, '/laboratory']);
    const withPhone = await office.post('/tokens', { ...named, device: t.firm.ids.phone });
    expect([withPhone.status, withPhone.body.pointer]).toEqual([422, '/device']);
    const { status, body } = await office.post('/tokens', named);
    expect([status, body.role, body.laboratory]).toEqual([201, 'laboratory', made.id]);
    expect((await office.get(`/tokens/${body.id}`)).body).toMatchObject({ role: 'laboratory', laboratory: made.id });
    const laboratory = new RestClient(t, body.secret);
    for (const url of ['/events', `/events/${t.firm.ids.event}`, '/kinds', '/sync/feeds', '/tokens']) {
      expect([url, (await laboratory.get(url)).status]).toEqual([url, 403]);
    }
    const me = await laboratory.get('/me');
    expect(me.body).toMatchObject({ role: 'laboratory', device: null, laboratory: { id: made.id } });
    const code = await office.post('/enrolment-codes', { label: 'Testlab', role: 'laboratory' });
    expect([code.status, code.body.pointer]).toEqual([422, '/role']);
    expect((await office.post(`/tokens/${body.id}/revoke`)).status).toBe(200);
    expect((await laboratory.get('/events')).status).toBe(401);
  });

  it('is listed in pages', async () => {
    const all = (await admin.get('/tokens')).body.items.map((one: { id: string }) => one.id);
    const first = await admin.get('/tokens?limit=2');
    const rest = await admin.get(`/tokens?cursor=${first.body.next}`);
    expect([...first.body.items, ...rest.body.items].map((one: { id: string }) => one.id)).toEqual(all);
    expect(first.headers.link).toContain('rel="next"');
  });
});

describe('the person at a phone', () => {
  let crew: RestClient;

  beforeEach(async () => {
    crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
  });

  it('changes in one call, and what is written next is theirs', async () => {
    const { ann, bob, phone, north } = t.firm.ids;
    expect((await crew.get('/me')).body).toMatchObject({
      firm: { id: t.firm.id, name: 'Testwater Associates' },
      device: { id: phone, label: 'Phone 1', crew: north },
      person: { id: ann, initials: 'AR' },
    });
    const taken = await crew.send('PUT', '/me/person', { person: bob });
    expect([taken.status, taken.body.person]).toEqual([200, { id: bob, name: 'Bob Writer', initials: 'BW' }]);
    const { event, lone } = t.firm.ids;
    const arrived = '2026-05-04T09:00:00-05:00';
    const visit = await crew.post('/visits', { event, well: lone, crew: north, method: 'gauging', arrived });
    expect((await crew.get(`/visits/${visit.body.id}`)).body.by).toBe(bob);
    const { body: history } = await crew.get(`/devices/${phone}/history`);
    expect(history.items.at(-1)).toMatchObject({
      changes: [{ field: 'person', was: ann, is: bob }],
      record: { by: bob },
    });
    const again = await crew.send('PUT', '/me/person', { person: bob });
    expect(again.status).toBe(200);
    expect((await crew.get(`/devices/${phone}`)).body.rev).toBe(history.items.at(-1).rev);
  });

  it('is an active member of the firm, and the device is the own one', async () => {
    const { phone, lone } = t.firm.ids;
    const left = await admin.post('/members', { name: 'Dee Gone', initials: 'DG', standing: 'left' });
    for (const person of [lone, left.body.id, '01890000-0000-7000-8000-000000000000']) {
      const { status, body } = await crew.send('PUT', '/me/person', { person });
      expect([status, body.pointer]).toEqual([422, '/person']);
    }
    const loose = new RestClient(t, await t.token('crew'));
    const nowhere = await loose.send('PUT', '/me/person', { person: t.firm.ids.ann });
    expect([nowhere.status, nowhere.body.code]).toEqual([404, 'record_missing']);
    const other = await crew.patch(`/devices/${phone}`, { base: { rev: 1 }, label: 'Mine' });
    expect([other.status, other.body.code]).toEqual([202, 'right_missing']);
  });
});
