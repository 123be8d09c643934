import { expect, it } from 'vitest';
import type { FetchLike, FetchRequest } from '../../src/client/fetch-like.ts';
import { httpTransport } from '../../src/client/http-transport.ts';

const LIST = {
  epoch: '00000000-0000-7000-8000-0000000000e1',
  serverTime: '2026-05-04T15:00:00Z',
  schemaVersion: 1,
  lastMutation: 3,
  durable: 2,
  feeds: [{ feed: 'firm', tail: 1, count: 1, contentHash: '00000000000000aa' }],
};
const RECORD = { kind: 'crew', id: 'x', rev: 1, fields: { name: 'Crew 1' }, mood: 'good' };
const PAGE = { feed: 'site:1', rows: [{ seq: 1, record: RECORD }], cursor: 'c', more: false, ...LIST.feeds[0] };

interface Heard {
  readonly url: string;
  readonly request: FetchRequest;
}

function answering(status: number, body: unknown, headers: Record<string, string> = {}) {
  const heard: Heard[] = [];
  const fetch: FetchLike = async (url, request) => {
    heard.push({ url, request });
    const text = typeof body === 'string' ? body : JSON.stringify(body);
    return { status, headers: { get: (name) => headers[name] ?? null }, text: async () => text };
  };
  return { heard, transport: httpTransport({ base: 'https://firm.example/api/', token: 'T', fetch }) };
}

it('asks at the addresses of the wire, with the token in the header and never in the address', async () => {
  const { heard, transport } = answering(200, LIST);
  await transport.feeds('me');
  await transport.page({ feed: 'site:1', cursor: null, limit: 10, client: 'me' });
  await transport.page({ feed: 'site:1', cursor: 'a/b+c=', limit: 10, client: 'me' });
  await transport.verify('event:2', '01');
  await transport.push('{}\n');
  expect(heard.map(({ request, url }) => `${request.method} ${url}`)).toEqual([
    'GET https://firm.example/api/v1/sync/feeds?client=me',
    'GET https://firm.example/api/v1/sync/feeds/site%3A1/rows?limit=10&client=me',
    'GET https://firm.example/api/v1/sync/feeds/site%3A1/rows?cursor=a%2Fb%2Bc%3D&limit=10&client=me',
    'GET https://firm.example/api/v1/sync/feeds/event%3A2/verify?prefix=01',
    'POST https://firm.example/api/v1/sync/push',
  ]);
  for (const { request } of heard) expect(request.headers.authorization).toBe('Bearer T');
  expect(heard[4]?.request).toMatchObject({ body: '{}\n', headers: { 'content-type': 'application/x-ndjson' } });
});

it('gives records back member for member, also those that it does not know', async () => {
  const answer = await answering(200, PAGE).transport.page({ feed: 'site:1', cursor: null, limit: 10, client: 'me' });
  expect(answer).toEqual({ ok: true, value: PAGE });
});

it.each([
  ['cut', JSON.stringify(LIST).slice(0, 40)],
  ['the page of a network that wants a sign-in', '<html></html>'],
  ['other than what was asked for', { hello: 'world' }],
  ['a list with a member of another form', { ...LIST, lastMutation: 'three' }],
])('an answer that is %s leaves open what happened: ask again', async (_, body) => {
  const answer = await answering(200, body).transport.feeds('me');
  expect(answer).toMatchObject({ ok: false, problem: { status: null, code: 'no_answer' } });
});

it('a request that fails leaves open what happened, too', async () => {
  const fetch: FetchLike = async () => Promise.reject(new Error('network unreachable'));
  const answer = await httpTransport({ base: 'http://x', token: 'T', fetch }).push('');
  expect(answer).toMatchObject({ ok: false, problem: { code: 'no_answer', detail: 'network unreachable' } });
});

it('reads the members of a problem that it acts on', async () => {
  const body = { type: '/x', code: 'reset_required', detail: 'why', reason: 'epoch', lastMutation: 7, expected: 'odd' };
  const answer = await answering(410, body).transport.page({ feed: 'firm', cursor: 'c', limit: 1, client: 'me' });
  expect(answer).toMatchObject({
    ok: false,
    problem: {
      status: 410,
      code: 'reset_required',
      detail: 'why',
      reason: 'epoch',
      lastMutation: 7,
      expected: null,
      mutation: null,
    },
  });
});

it('reads Retry-After in seconds, and names an answer without a problem by its status', async () => {
  const busy = await answering(503, { code: 'busy' }, { 'retry-after': '12' }).transport.push('');
  expect(busy).toMatchObject({ ok: false, problem: { code: 'busy', retryAfterMs: 12_000 } });
  const date = await answering(503, 'x', { 'retry-after': 'Mon, 04 May 2026 15:00:00 GMT' }).transport.push('');
  expect(date).toMatchObject({ ok: false, problem: { code: 'http_503', retryAfterMs: null } });
});

it('takes the platform fetch as it is', () => {
  const limited: FetchLike = (url, request) => fetch(url, { ...request, signal: AbortSignal.timeout(30_000) });
  expect(httpTransport({ base: 'http://x', token: 'T', fetch: limited })).toBeDefined();
  expect(httpTransport({ base: 'http://x', token: 'T', fetch })).toBeDefined();
});
