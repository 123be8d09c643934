import { randomBytes } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { type OpenServer, openServer } from '../../security/two-firms.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let admin: RestClient;
let office: RestClient;
let stranger: RestClient;

beforeAll(async () => {
  t = await testApp();
  admin = new RestClient(t, await t.token('admin'));
  office = new RestClient(t, await t.token('coordinator'));
  stranger = new RestClient(t, '');
});
afterAll(() => t.close());
// each case begins in a minute without guesses
beforeEach(() => {
  t.firm.nowMs += 120_000;
});

function newSecret(): string {
  return `wrt_${randomBytes(32).toString('base64url')}`;
}

async function makeCode(wish: object = { device: t.firm.ids.phone }) {
  const made = await office.post('/enrolment-codes', { label: 'Phone of Ann', ...wish });
  expect([made.status, made.body.code]).toEqual([
    201,
    expect.stringMatching(/^[0-9A-HJKMNP-TV-Z]{5}-[0-9A-HJKMNP-TV-Z]{5}$/),
  ]);
  return made.body as { id: string; code: string };
}

function enrol(code: string, secret = newSecret(), label = 'Ann, spare phone') {
  return stranger.post('/enrol', { code, secret, label });
}

async function standingOf(id: string): Promise<Record<string, unknown>> {
  return (await office.get(`/enrolment-codes/${id}`)).body;
}

describe('a code', () => {
  it('[E1] gives a phone its token once, and is listed without the code, with what became of it', async () => {
    const { id, code } = await makeCode();
    const secret = newSecret();
    const { status, body, headers } = await enrol(code, secret);
    expect([status, headers['cache-control']]).toEqual([200, 'no-store']);
    expect(body).toEqual({ token: expect.any(String), role: 'crew', device: t.firm.ids.phone });
    const phone = new RestClient(t, secret);
    expect((await phone.get('/me')).body).toMatchObject({ token: body.token, device: { id: t.firm.ids.phone } });
    const listed = await office.get('/enrolment-codes');
    expect(listed.body.items).toContainEqual(await standingOf(id));
    expect(await standingOf(id)).toMatchObject({ standing: 'used', usedLabel: 'Ann, spare phone', token: body.token });
    const { rows } = await t.db.bypass.query('select to_jsonb(e)::text as row from enrolment_code e');
    const stored = rows.map(({ row }) => row).join();
    for (const text of [listed.text, stored]) {
      for (const hidden of [code, code.replace('-', ''), secret]) expect(text).not.toContain(hidden);
    }
  });

  it('[E1] is understood however it is typed', async () => {
    const { code } = await makeCode();
    const typed = ` ${code.replace('-', ' ').toLowerCase().replaceAll('0', 'o').replaceAll('1', 'l')} `;
    expect((await enrol(typed)).status).toBe(200);
  });

  it('[E1] makes the record of a device that there is none of yet, with its crew, person and the label of the phone', async () => {
    const { north, bob } = t.firm.ids;
    const { id, code } = await makeCode({ crew: north, person: bob });
    const secret = newSecret();
    const { body } = await enrol(code, secret, 'Tablet of Bob');
    const me = await new RestClient(t, secret).get('/me');
    expect(me.body).toMatchObject({
      device: { id: body.device, label: 'Tablet of Bob', crew: north },
      person: { id: bob },
    });
    expect((await standingOf(id)).device).toBe(body.device);
    expect((await new RestClient(t, secret).get('/sync/feeds')).status).toBe(200);
  });

  it('[E2] of two phones that use it at once exactly one gets a token, whichever process they ask', async () => {
    const other: OpenServer = await openServer(t.db.pool);
    try {
      for (let times = 0; times < 5; times++) {
        const { code } = await makeCode({ crew: t.firm.ids.north, minutes: 1_440 });
        const secrets = Array.from({ length: 6 }, newSecret);
        const payload = (secret: string) => ({ code, secret, label: 'Racing' });
        const answers = await Promise.all(
          secrets.map((secret, at) =>
            (at % 2 === 0 ? t : other).app.inject({ method: 'POST', url: '/v1/enrol', payload: payload(secret) }),
          ),
        );
        expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([200, 403, 403, 403, 403, 403]);
        const who = await Promise.all(secrets.map((secret) => new RestClient(t, secret).get('/me')));
        const won = answers.findIndex(({ statusCode }) => statusCode === 200);
        expect(who.map(({ status }) => status)).toEqual(secrets.map((_, at) => (at === won ? 200 : 401)));
        t.firm.nowMs += 60_000;
      }
      const { rows } = await t.db.bypass.query(`select count(*)::int as n from device where label = 'Racing'`);
      expect(rows[0].n).toBe(5);
    } finally {
      await other.close();
    }
  });

  it('[E3] whose answer was lost is asked for again with the same secret: the same token, nothing twice', async () => {
    const { code } = await makeCode({ crew: t.firm.ids.south });
    const secret = newSecret();
    const first = await enrol(code, secret);
    const again = await Promise.all([enrol(code, secret, 'Other words'), enrol(code, secret), enrol(code, secret)]);
    expect([first, ...again].map(({ body }) => body)).toEqual(Array(4).fill(first.body));
    const { rows } = await t.db.bypass.query(
      `select (select count(*)::int from token where device = $1) as tokens, (select rev from device where id = $1) as rev`,
      [first.body.device],
    );
    expect(rows[0]).toEqual({ tokens: 1, rev: 1 });
  });

  it('[E3] goes on where the server ended between the code and the token', async () => {
    const { id, code } = await makeCode({ crew: t.firm.ids.south });
    const secret = newSecret();
    const { token, device } = (await enrol(code, secret)).body;
    await t.db.bypass.query('delete from token where id = $1', [token]);
    expect((await enrol(code, secret)).body).toEqual({ token, role: 'crew', device });
    expect((await standingOf(id)).standing).toBe('used');
  });

  it('[E4] that is unknown, used, withdrawn or over is refused in the same words; the office is told which it is', async () => {
    const [used, withdrawn, over] = [
      await makeCode(),
      await makeCode(),
      await makeCode({ device: t.firm.ids.phone, minutes: 1 }),
    ];
    await enrol(used.code);
    expect((await office.post(`/enrolment-codes/${withdrawn.id}/withdraw`)).body.standing).toBe('withdrawn');
    t.firm.nowMs += 61_000;
    const refused = await Promise.all(['ZZZZZ-ZZZZZ', used.code, withdrawn.code, over.code].map((code) => enrol(code)));
    const told = refused.map(({ status, body: { requestId: _, ...body } }) => ({ status, body }));
    expect(told).toEqual(Array(4).fill(told[0]));
    expect(told[0]).toMatchObject({ status: 403, body: { code: 'enrolment_refused' } });
    const standings = await Promise.all([used, withdrawn, over].map(({ id }) => standingOf(id)));
    expect(standings.map(({ standing }) => standing)).toEqual(['used', 'withdrawn', 'expired']);
    // an answer that was lost cannot be asked for once the code is over
    const late = await makeCode();
    const secret = newSecret();
    expect((await enrol(late.code, secret)).status).toBe(200);
    t.firm.nowMs += 15 * 60_000;
    expect((await enrol(late.code, secret)).status).toBe(403);
    expect((await new RestClient(t, secret).get('/me')).status).toBe(200);
  });

  it('[E4] can be guessed at only so often: from one address, and from all together', async () => {
    const { code } = await makeCode({ device: t.firm.ids.phone, minutes: 1_440 });
    const guess = (remoteAddress: string, typed = 'ZZZZZ-ZZZZZ') => {
      const payload = { code: typed, secret: newSecret(), label: 'X' };
      return t.app.inject({ method: 'POST', url: '/v1/enrol', remoteAddress, payload });
    };
    const own = await Promise.all(Array.from({ length: 40 }, () => guess('203.0.113.1')));
    expect(own.filter(({ statusCode }) => statusCode === 429)).toHaveLength(10);
    expect(own.at(-1)?.json()).toMatchObject({ code: 'too_many' });
    expect(Number(own.at(-1)?.headers['retry-after'])).toBeGreaterThan(1);
    for (let at = 2; at < 22; at++) await Promise.all(Array.from({ length: 30 }, () => guess(`203.0.113.${at}`)));
    // all guesses of this minute are used up: the right code has to wait too
    expect((await guess('198.51.100.1', code)).statusCode).toBe(429);
    t.firm.nowMs += 60_000;
    expect((await guess('203.0.113.1', code)).statusCode).toBe(200);
  });

  it('[E4] can be guessed at behind a proxy without keeping those from enrolling who come through it', async () => {
    for (const [at, proxy] of ['127.0.0.1', '172.20.0.3', '::ffff:192.168.1.9', 'fd00::3'].entries()) {
      const { code } = await makeCode();
      const post = (typed: string) => {
        const payload = { code: typed, secret: newSecret(), label: `X ${at}` };
        return t.app.inject({ method: 'POST', url: '/v1/enrol', remoteAddress: proxy, payload });
      };
      await Promise.all(Array.from({ length: 40 }, () => post('ZZZZZ-ZZZZZ')));
      expect([proxy, (await post(code)).statusCode]).toEqual([proxy, 200]);
    }
  });

  it('[E4] can be withdrawn while nothing came of its use, and not once there is a token', async () => {
    const { id, code } = await makeCode();
    const secret = newSecret();
    const { token } = (await enrol(code, secret)).body;
    expect((await office.post(`/enrolment-codes/${id}/withdraw`)).body.standing).toBe('used');
    // the server had ended between the code and the token
    await t.db.bypass.query('delete from token where id = $1', [token]);
    expect((await office.post(`/enrolment-codes/${id}/withdraw`)).body.standing).toBe('withdrawn');
    expect((await enrol(code, secret)).status).toBe(403);
  });

  it('[E4] gives out no token where it is withdrawn while it is used', async () => {
    for (let times = 0; times < 5; times++) {
      const { id, code } = await makeCode({ crew: t.firm.ids.north });
      const secret = newSecret();
      const withdraw = () => office.post(`/enrolment-codes/${id}/withdraw`);
      const [used] = await Promise.all([enrol(code, secret), withdraw(), withdraw(), withdraw()]);
      const { standing } = await standingOf(id);
      expect([standing, used.status]).toEqual(standing === 'used' ? ['used', 200] : ['withdrawn', 403]);
      expect((await new RestClient(t, secret).get('/me')).status).toBe(standing === 'used' ? 200 : 401);
    }
  });

  it('is made by the office, with no more right than its own, and for what is on record', async () => {
    const crew = new RestClient(t, await t.token('crew', t.firm.ids.phone));
    expect((await crew.post('/enrolment-codes', { label: 'X', device: t.firm.ids.phone })).status).toBe(403);
    expect((await office.post('/enrolment-codes', { label: 'X', role: 'admin' })).status).toBe(403);
    const ofAdmin = await admin.post('/enrolment-codes', { label: 'Second admin', role: 'admin' });
    expect(ofAdmin.status).toBe(201);
    expect((await office.post(`/enrolment-codes/${ofAdmin.body.id}/withdraw`)).status).toBe(403);
    const secret = newSecret();
    expect((await enrol(ofAdmin.body.code, secret)).body).toMatchObject({ role: 'admin', device: null });
    expect((await new RestClient(t, secret).get('/tokens')).status).toBe(200);
    const { ids } = t.firm;
    const bad = [
      [{}, '/device'],
      [{ device: ids.lone }, '/device'],
      [{ device: v7() }, '/device'],
      [{ device: ids.phone, crew: ids.north }, '/device'],
      [{ crew: ids.phone }, '/crew'],
      [{ crew: ids.north, person: ids.lone }, '/person'],
      [{ device: ids.phone, minutes: 0 }, '/minutes'],
    ] as const;
    for (const [wish, pointer] of bad) {
      const { status, body } = await office.post('/enrolment-codes', { label: 'X', ...wish });
      expect([wish, status, body.pointer]).toEqual([wish, 422, pointer]);
    }
  });

  it('[E4] is over with the token that made it: who stole that one comes back by no code', async () => {
    const admin = new RestClient(t, await t.token('admin'));
    const issued = (await admin.post('/tokens', { label: 'stolen', role: 'coordinator' })).body;
    const thief = new RestClient(t, issued.secret);
    const made = await thief.post('/enrolment-codes', { label: 'X', crew: t.firm.ids.north, minutes: 1_440 });
    expect(made.status).toBe(201);
    const used = (await thief.post('/enrolment-codes', { label: 'Y', crew: t.firm.ids.north })).body;
    expect((await enrol(used.code)).status).toBe(200);
    const withdrawnCodes = [{ id: made.body.id, label: 'X' }];
    for (const _ of ['once', 'again']) {
      const { status, body } = await admin.post(`/tokens/${issued.id}/revoke`);
      expect([status, body.withdrawnCodes]).toEqual([200, withdrawnCodes]);
    }
    expect((await admin.get(`/enrolment-codes/${made.body.id}`)).body.standing).toBe('withdrawn');
    expect((await admin.get(`/enrolment-codes/${used.id}`)).body.standing).toBe('used');
    expect((await enrol(made.body.code)).status).toBe(403);
  });

  it('comes with a secret of the right form, and one that no other token has', async () => {
    const { code } = await makeCode();
    for (const secret of ['', 'abc', `wrt_${'a'.repeat(42)}`, `xxx_${'a'.repeat(43)}`]) {
      const { status, body } = await enrol(code, secret);
      expect([secret, status, body.pointer]).toEqual([secret, 422, '/secret']);
    }
    const short = await enrol('ABC');
    expect([short.status, short.body.pointer]).toEqual([422, '/code']);
    const secret = newSecret();
    expect((await enrol(code, secret)).status).toBe(200);
    const next = await makeCode();
    expect((await enrol(next.code, secret)).status).toBe(403);
    expect((await new RestClient(t, secret).get('/me')).status).toBe(200);
  });

  it('is made through GraphQL as through REST', async () => {
    const graph = async (by: string, args: string) => {
      const payload = { query: `mutation { makeEnrolmentCode(${args}) { id code expiresAt } }` };
      const headers = { authorization: `Bearer ${by}` };
      return (await t.app.inject({ method: 'POST', url: '/graphql', headers, payload })).json();
    };
    const coordinator = await t.token('coordinator');
    const made = await graph(coordinator, `label: "Ann", device: "${t.firm.ids.phone}"`);
    const { code, id } = made.data.makeEnrolmentCode;
    expect((await standingOf(id)).standing).toBe('open');
    expect((await enrol(code)).status).toBe(200);
    const crew = await t.token('crew', t.firm.ids.phone);
    expect((await graph(crew, `label: "Ann", device: "${t.firm.ids.phone}"`)).errors[0].extensions.code).toBe(
      'forbidden',
    );
    expect((await graph(coordinator, 'label: "Ann", role: ADMIN')).errors[0].extensions.code).toBe('forbidden');
    expect((await graph(coordinator, 'label: "Ann", device: "x"')).errors[0].extensions.code).toBe('unreadable_record');
  });
});
