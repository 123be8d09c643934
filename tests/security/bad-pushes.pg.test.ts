import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LIMITS } from '../../src/protocol/limits.ts';
import { type Body, headerOf, RawPusher } from './raw-pusher.ts';

let t: RawPusher;

beforeAll(async () => {
  t = await RawPusher.open();
});
afterAll(() => t.app.close());

/** What is wrong with a push as a whole, the status and code, and what the refusal names. */
const PUSHES: readonly (readonly [string, () => Body, Record<string, string>, number, string, string])[] = [
  ['nothing', () => '', {}, 400, 'unreadable_text', 'first line'],
  ['no header', () => `${t.reading('"7.10"')}\n`, {}, 400, 'bad_request', '/client'],
  ['a header that is cut', () => `${headerOf(0).slice(0, -5)}\n`, {}, 400, 'unreadable_json', 'header'],
  ['a header that is not UTF-8', () => Buffer.from([0x7b, 0xff, 0x7d, 0x0a]), {}, 400, 'unreadable_text', 'UTF-8'],
  ['a header with an unknown field', () => `${headerOf(0, { colour: 'red' })}\n`, {}, 400, 'bad_request', '/colour'],
  [
    'a header with a prototype',
    () => `${headerOf(0).replace('{', '{"__proto__":{},')}\n`,
    {},
    400,
    'bad_request',
    '__proto__',
  ],
  [
    'a header with a number beyond all numbers',
    () => `${headerOf(0).replace(':0', ':1e309')}\n`,
    {},
    400,
    'bad_request',
    '/count',
  ],
  ['fewer lines than announced', () => `${headerOf(2)}\n${t.reading('"7"')}\n`, {}, 400, 'cut_short', 'announces 2'],
  [
    'more lines than announced',
    () => `${headerOf(1)}\n${t.reading('"7"')}\n${t.reading('"7"')}\n`,
    {},
    400,
    'cut_short',
    '2 lines',
  ],
  ['no end of the last line', () => `${headerOf(1)}\n${t.reading('"7"')}`, {}, 400, 'cut_short', 'line end'],
  [
    'too many lines',
    () => `${headerOf(501)}\n${'{}\n'.repeat(501)}`,
    {},
    413,
    'too_large',
    `pushMutations ${LIMITS.pushMutations}`,
  ],
  [
    'a byte too many',
    () => Buffer.alloc(LIMITS.pushBytes + 1, 0x0a),
    {},
    413,
    'too_large',
    `pushBytes ${LIMITS.pushBytes}`,
  ],
  [
    'another content type',
    () => `${headerOf(0)}\n`,
    { 'content-type': 'text/plain' },
    415,
    'unsupported_media',
    'ndjson',
  ],
  ['JSON as its type', () => '{}', { 'content-type': 'application/json' }, 415, 'unsupported_media', 'ndjson'],
  [
    'a type that only begins alike',
    () => `${headerOf(0)}\n`,
    { 'content-type': 'application/x-ndjsonx' },
    415,
    'unsupported_media',
    '',
  ],
  [
    'bytes that are compressed',
    () => Buffer.from([0x1f, 0x8b, 8, 0, 0, 0]),
    { 'content-encoding': 'gzip' },
    415,
    'unsupported_media',
    'gzip',
  ],
];

describe('a push that cannot be read', () => {
  for (const [what, make, headers, status, code, names] of PUSHES) {
    it(`for ${what} is ${status} ${code}, and nothing of it is stored`, async () => {
      const stored = async () => (await t.app.db.bypass.query('select count(*) as n from receipt')).rows[0].n as number;
      const before = await stored();
      const answer = await t.send(make(), headers);
      expect([answer.status, answer.body.code]).toEqual([status, code]);
      expect(`${String(answer.body.detail)} ${String(answer.body.pointer)}`).toContain(names);
      expect(await stored()).toBe(before);
    });
  }

  it('cites limits that GET /v1/limits gives', async () => {
    const limits = await t.read('/v1/limits');
    expect(limits).toMatchObject(LIMITS);
  });
});
