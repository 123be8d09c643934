import pino from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openApp } from '../../src/app.ts';
import { openRecords, type Records } from '../../src/store/records.ts';
import { newSecret } from '../../src/store/tokens.ts';
import { faultyPool } from '../support/faulty-pool.ts';
import { type TestApp, testApp } from '../support/test-app.ts';

let t: TestApp;
let app: Awaited<ReturnType<typeof openApp>>;
let records: Records;
let broken = false;
const lines: string[] = [];

beforeAll(async () => {
  t = await testApp();
  const pool = faultyPool(t.db.pool, (statement) => {
    if (broken && !/^\s*(rollback|begin)/i.test(statement)) throw new Error('a fault that a test threw');
  });
  records = openRecords(t.db.pool);
  const now = () => new Date(t.firm.nowMs);
  const logger = pino({ level: 'trace' }, { write: (line: string) => void lines.push(line) });
  app = await openApp({ pool, records, lane: t.firm.lane, now }, logger);
  await app.ready();
});
afterAll(async () => {
  await app.close();
  await records.close();
  await t.close();
});

/** Everywhere a token may stand in a request, where it belongs and where it does not. */
function requestsWith(
  secret: string,
): { method: 'GET' | 'POST'; url: string; headers: Record<string, string>; payload?: string }[] {
  const bearer = { authorization: `Bearer ${secret}` };
  const json = { ...bearer, 'content-type': 'application/json' };
  return [
    { method: 'GET', url: '/v1/me', headers: bearer },
    { method: 'GET', url: '/v1/nowhere', headers: bearer },
    { method: 'GET', url: '/v1/wells/%', headers: bearer },
    { method: 'GET', url: '/v1/wells?limit=x', headers: bearer },
    { method: 'GET', url: '/v1/me', headers: { authorization: secret } },
    { method: 'GET', url: '/v1/me', headers: { authorization: `Basic ${secret}` } },
    { method: 'GET', url: '/v1/me', headers: { 'x-api-key': secret, cookie: `token=${secret}` } },
    { method: 'POST', url: '/v1/units', headers: json, payload: '{' },
    {
      method: 'POST',
      url: '/v1/sync/push',
      headers: { ...bearer, 'content-type': 'application/x-ndjson' },
      payload: '{\n',
    },
    {
      method: 'POST',
      url: '/graphql',
      headers: json,
      payload: JSON.stringify({ query: '{ firms { nodes { id } } }' }),
    },
    { method: 'POST', url: '/graphql', headers: json, payload: JSON.stringify({ query: '{ nothing }' }) },
  ];
}

describe('the log', () => {
  it('never holds a token: of a good request, a bad one, one of nobody, or one that meets a fault of ours', async () => {
    const known = [await t.token('admin'), await t.token('crew', t.firm.ids.phone)];
    const unknown = newSecret();
    for (const state of [false, true]) {
      broken = state;
      for (const secret of [...known, unknown]) for (const asked of requestsWith(secret)) await app.inject(asked);
    }
    broken = false;
    const log = lines.join('');
    expect(log).toContain('a fault that a test threw');
    for (const secret of [...known, unknown]) expect(log.includes(secret)).toBe(false);
    expect(log).not.toMatch(/wrt_[\w-]{20}/);
  });

  it('does not hold the secret of a token that was just issued', async () => {
    const headers = { authorization: `Bearer ${await t.token('admin')}` };
    const issued = await app.inject({
      method: 'POST',
      url: '/v1/tokens',
      headers,
      payload: { label: 'New', role: 'dashboard' },
    });
    expect(issued.statusCode).toBe(201);
    expect(lines.join('').includes(issued.json().secret)).toBe(false);
  });

  it('does not hold a token that somebody put into an address', async () => {
    const secret = await t.token('dashboard');
    for (const url of [`/v1/wells?token=${secret}`, `/v1/wells/${secret}`, `/v1/${secret}`]) await app.inject({ url });
    expect(lines.join('').includes(secret)).toBe(false);
  });
});
