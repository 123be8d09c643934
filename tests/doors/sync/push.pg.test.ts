import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LIMITS } from '../../../src/protocol/limits.ts';
import { feedPage, pushAnswer } from '../../../src/protocol/sync.ts';
import { revokeToken } from '../../../src/store/write/token-rows.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';

let t: TestApp;
let token: string;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
});
afterAll(() => t.close());

interface Sending {
  readonly secret?: string;
  readonly query?: string;
  readonly type?: string;
}

async function send(
  payload: string | Buffer,
  { secret = token, query = '', type = 'application/x-ndjson' }: Sending = {},
) {
  const headers = { authorization: `Bearer ${secret}`, 'content-type': type };
  const response = await t.app.inject({ method: 'POST', url: `/v1/sync/push${query}`, headers, payload });
  return { status: response.statusCode, headers: response.headers, text: response.body, body: response.json() };
}

function body(client: string, first: number, lines: readonly (string | Buffer)[], more: object = {}): Buffer {
  const header = JSON.stringify({ client, schemaVersion: 1, first, count: lines.length, ...more });
  return Buffer.concat([header, ...lines].map((line) => Buffer.concat([Buffer.from(line), Buffer.from('\n')])));
}

function visit(number: number, id = v7()): string {
  const { event, lone, north } = t.firm.ids;
  const set = { event, well: lone, crew: north, method: 'gauging', arrived: '2026-05-04T09:00:00-05:00' };
  return JSON.stringify({ mutationId: number, verb: 'record', kind: 'visit', id, set });
}

async function stored(client: string): Promise<number> {
  return (await t.db.bypass.query('select count(*) as n from receipt where client = $1', [client])).rows[0].n;
}

describe('a push over HTTP', () => {
  it('[W2] answers in the documented form, and again byte for byte', async () => {
    const client = randomUUID();
    const lines = [visit(1), '{"mutationId":2}', Buffer.from([0xff, 0xfe])];
    const once = await send(body(client, 1, lines));
    expect(pushAnswer.safeParse(once.body).error).toBeUndefined();
    expect(once.body.outcomes.map((one: { outcome: string }) => one.outcome)).toEqual([
      'applied',
      'set_aside',
      'set_aside',
    ]);
    const again = await send(body(client, 1, lines));
    expect(again.text).toBe(once.text);
    const partly = await send(body(client, 2, [...lines.slice(1), visit(4)]));
    expect(partly.body).toMatchObject({ lastMutation: 4 });
    expect(partly.text).toContain(once.text.slice(once.text.indexOf('{"mutationId":2'), once.text.lastIndexOf(']')));
  });

  it('[W3] [W4] [W5] refuses numbers that do not fit with what the server knows, and stores nothing', async () => {
    const client = randomUUID();
    const gap = await send(body(client, 3, [visit(3)]));
    expect(gap).toMatchObject({ status: 409, body: { code: 'mutation_gap', expected: 1, client } });
    expect(await stored(client)).toBe(0);
    await send(body(client, 1, [visit(1)]));
    const reused = await send(body(client, 1, [visit(1)]));
    expect(reused).toMatchObject({ status: 409, body: { code: 'mutation_reused', mutation: 1 } });
    const partner = await t.token('crew', t.firm.ids.otherPhone);
    const line = visit(2);
    const other = await send(body(client, 2, [line]), { secret: partner });
    expect(other).toMatchObject({ status: 409, body: { code: 'client_of_other', mutation: 2 } });
    expect(await stored(client)).toBe(1);
    const carried = await send(body(client, 2, [line]), { secret: partner, query: '?carried=true' });
    expect(carried).toMatchObject({ status: 200, body: { lastMutation: 2 } });
    expect((await send(body(client, 2, [line]))).body.outcomes).toEqual(carried.body.outcomes);
  });

  it('[B9] applies nothing that names revisions of another history, and answers again what it had answered', async () => {
    const client = randomUUID();
    const feed = `event:${t.firm.ids.event}`;
    const id = v7();
    const first = await send(body(client, 1, [visit(1, id)]));
    const page = await t.app.inject({
      url: `/v1/sync/feeds/${feed}/rows?limit=1000`,
      headers: { authorization: `Bearer ${token}` },
    });
    const { cursor } = page.json() as { cursor: string };
    const amend = (number: number) =>
      JSON.stringify({
        mutationId: number,
        verb: 'amend',
        kind: 'visit',
        id,
        base: { rev: 1 },
        set: { outcomeReason: 'a' },
      });
    // the same places with what another history is there
    const [claims = '', signature = ''] = cursor.split('.');
    const fields = JSON.parse(Buffer.from(claims, 'base64url').toString('utf8'));
    const as = (more: object) =>
      `${Buffer.from(JSON.stringify({ ...fields, ...more })).toString('base64url')}.${signature}`;
    const refused: [string, string][] = [
      [as({ h: '0123456789abcdef' }), 'other_history'],
      [as({ s: fields.s + 100 }), 'future'],
      [as({ e: randomUUID() }), 'other_epoch'],
      ['no cursor', 'unknown_cursor'],
      [as({ f: 'firm\u0000' }), 'unknown_cursor'],
    ];
    for (const [seen, reason] of refused) {
      const answer = await send(body(client, 2, [amend(2)], { seen: [cursor, seen] }));
      expect(answer).toMatchObject({ status: 410, body: { code: 'reset_required', reason, lastMutation: 1 } });
      expect(await stored(client)).toBe(1);
    }
    const partly = await send(body(client, 1, [visit(1, id), amend(2)], { seen: ['no cursor'] }));
    expect(partly).toMatchObject({ status: 410, body: { reason: 'unknown_cursor', lastMutation: 1 } });
    const again = await send(body(client, 1, [visit(1, id)], { seen: ['no cursor'] }));
    expect(again.text).toBe(first.text);
    const taken = await send(body(client, 2, [amend(2)], { seen: [cursor] }));
    expect(taken.body.outcomes).toMatchObject([{ outcome: 'applied', rev: 2 }]);
    const tooMany = await send(body(client, 3, [amend(3)], { seen: Array(9).fill(cursor) }));
    expect(tooMany).toMatchObject({ status: 400, body: { code: 'bad_request' } });
  });

  it('[W10] refuses a body whose header or number of lines cannot be trusted, and stores nothing', async () => {
    const client = randomUUID();
    const cases: [Buffer | string, number, string][] = [
      ['', 400, 'unreadable_text'],
      ['nonsense\n', 400, 'unreadable_json'],
      [Buffer.from([0xff, 0x0a]), 400, 'unreadable_text'],
      ['{}\n', 400, 'bad_request'],
      [body(client, 0, []), 400, 'bad_request'],
      [body(client, 1, [visit(1)], { count: 2 }), 400, 'cut_short'],
      [body(client, 1, [visit(1), visit(2)], { count: 1 }), 400, 'cut_short'],
      [body(client, 1, [visit(1)], { truck: 1 }), 400, 'bad_request'],
      [body(client, 1, Array(LIMITS.pushMutations + 1).fill('{}')), 413, 'too_large'],
      [body(client, 1, [Buffer.alloc(LIMITS.pushBytes)]), 413, 'too_large'],
    ];
    for (const [payload, status, code] of cases) {
      const answer = await send(payload);
      expect([code, answer.status, answer.body.code]).toEqual([code, status, code]);
    }
    expect(await send(body(client, 1, []), { type: 'application/json' })).toMatchObject({ status: 415 });
    expect(await send(body(client, 1, []), { type: 'application/x-www-form-urlencoded' })).toMatchObject({
      status: 415,
      body: { detail: 'the content type is "application/x-www-form-urlencoded"; this door takes application/x-ndjson' },
    });
    expect(await stored(client)).toBe(0);
    expect(await send(body(client, 1, []))).toMatchObject({ status: 200, body: { lastMutation: 0, outcomes: [] } });
  });

  it('[W10] a header may be as large as the limits say and no larger, whatever it holds', async () => {
    const header = JSON.stringify({ client: randomUUID(), schemaVersion: 1, first: 1, count: 0 });
    const largest = `${header.padEnd(LIMITS.pushHeaderBytes, ' ')}\n`;
    expect(await send(largest)).toMatchObject({ status: 200, body: { lastMutation: 0 } });
    // of a newer app, whose header may hold what we do not know; not JSON at all; a mutation in its place
    const newer = `${JSON.stringify({ ...JSON.parse(header), schemaVersion: 1_000, more: 'x'.repeat(5_000) })}\n`;
    for (const text of [` ${largest}`, newer, `${'['.repeat(5_000)}\n`, visit(1).padEnd(5_000, ' ').concat('\n')]) {
      const { status, body: problem } = await send(text);
      expect([status, problem.code, problem.limit]).toEqual([413, 'too_large', 'pushHeaderBytes']);
      expect(problem.detail).toContain(
        `the first line has ${text.length - 1} bytes; the limit is pushHeaderBytes 4096`,
      );
      expect(problem.detail).toContain('mutations stand on the lines after it');
    }
  });

  it('[W10] takes as many lines as it says, and each may be as large as it says', async () => {
    const client = randomUUID();
    const remark = 'x'.repeat(3_900);
    const line = (number: number) => visit(number).replace('"method"', `"outcomeReason":"${remark}","method"`);
    const lines = Array.from({ length: LIMITS.pushMutations }, (_, at) => line(at + 1));
    const answer = await send(body(client, 1, lines));
    expect(answer.status).toBe(200);
    expect(new Set(answer.body.outcomes.map((one: { outcome: string }) => one.outcome))).toEqual(new Set(['applied']));
  });

  it('[W13] of a revoked device is set aside, and it pulls nothing', async () => {
    const secret = await t.token('crew', t.firm.ids.phone);
    const client = randomUUID();
    await send(body(client, 1, [visit(1)]), { secret });
    const { rows } = await t.db.bypass.query('select token from client where id = $1', [client]);
    await revokeToken(t.db.pool, t.firm.id, rows[0].token, '2026-05-04T12:00:00Z');
    const answer = await untilRevoked(secret, client);
    expect(answer).toMatchObject({ outcome: 'set_aside', code: 'device_revoked' });
    // it may not pull, and would cite a history that is gone for ever
    const { last_mutation: last } = (
      await t.db.bypass.query('select last_mutation from client where id = $1', [client])
    ).rows[0];
    const kept = await send(body(client, last + 1, [visit(last + 1)], { seen: ['no cursor'] }), { secret });
    expect(kept.body.outcomes).toMatchObject([{ outcome: 'set_aside', code: 'device_revoked' }]);
    const pull = await t.app.inject({ url: '/v1/sync/feeds', headers: { authorization: `Bearer ${secret}` } });
    expect(pull.statusCode).toBe(401);
  });

  /** A process believes a token for a second after it was looked up. */
  async function untilRevoked(secret: string, client: string): Promise<{ outcome: string }> {
    for (let number = 2; ; number++) {
      const { body: answer } = await send(body(client, number, [visit(number)]), { secret });
      if (answer.outcomes[0].outcome !== 'applied') return answer.outcomes[0];
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
  }

  it('[W13] needs a token that may write', async () => {
    const client = randomUUID();
    expect(await send(body(client, 1, []), { secret: 'wrt_none' })).toMatchObject({ status: 401 });
    const dashboard = await t.token('dashboard');
    expect(await send(body(client, 1, []), { secret: dashboard })).toMatchObject({ status: 403 });
  });
});

describe('a pull over HTTP', () => {
  it('[F6] is answered 410 with the reason, and with the last mutation of the client that asks', async () => {
    const client = randomUUID();
    await send(body(client, 1, [visit(1), visit(2)]));
    const feed = `event:${t.firm.ids.event}`;
    const get = async (query: string) => {
      const url = `/v1/sync/feeds/${feed}/rows?client=${client}&${query}`;
      return t.app.inject({ url, headers: { authorization: `Bearer ${token}` } });
    };
    const page = await get('limit=3');
    expect(feedPage.safeParse(page.json()).error).toBeUndefined();
    const forged = await get(`cursor=${page.json().cursor}x`);
    expect(forged.statusCode).toBe(410);
    expect(forged.headers['content-type']).toContain('application/problem+json');
    expect(forged.json()).toMatchObject({ code: 'reset_required', reason: 'unknown_cursor', lastMutation: 2, feed });
  });

  it('[F9] answers 404 for a feed that is not followed, and 400 for a question that cannot be read', async () => {
    const get = async (path: string) =>
      (await t.app.inject({ url: `/v1/sync/feeds${path}`, headers: { authorization: `Bearer ${token}` } })).json();
    expect(await get(`/event:${v7()}/rows`)).toMatchObject({ status: 404, code: 'not_found' });
    expect(await get(`/firm/rows?limit=0`)).toMatchObject({ status: 400, code: 'bad_request' });
    expect(await get(`/firm/rows?limit=1001`)).toMatchObject({ status: 400 });
    expect(await get(`/firm/rows?truck=1`)).toMatchObject({ status: 400 });
    expect(await get(`/firm/verify?prefix=xyz`)).toMatchObject({ status: 400 });
    expect(await get(`?client=me`)).toMatchObject({ status: 400 });
  });
});
