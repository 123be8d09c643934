import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LIMITS } from '../../../src/protocol/limits.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { RestClient } from './rest-client.ts';

let t: TestApp;
let admin: RestClient;

beforeAll(async () => {
  t = await testApp();
  admin = new RestClient(t, await t.token('admin'));
});
afterAll(() => t.close());

const unit = '"type":"compressor","use":"shared","ownership":"owned"';
const nested = (depth: number) => `${'['.repeat(depth)}${']'.repeat(depth)}`;
const label = (text: string) => `{${unit},"label":${text}}`;

/** What a body says, the status and code that it is refused with, and what the refusal names. */
const REFUSED: readonly (readonly [string, string | Buffer, number, string, string])[] = [
  ['cut JSON', `{${unit},"label":"C`, 400, 'unreadable_json', 'has no closing quotation mark'],
  ['NaN', label('NaN'), 400, 'unreadable_json', 'line 1, column 65: NaN stands where a value is expected'],
  ['a raw NUL', label('"a\u0000b"'), 400, 'unreadable_json', 'control character'],
  ['bytes that are not UTF-8', Buffer.from([0x7b, 0xff, 0x7d]), 400, 'unreadable_text', ''],
  ['an unpaired surrogate in UTF-8', Buffer.from([0x22, 0xed, 0xa0, 0x80, 0x22]), 400, 'unreadable_text', ''],
  ['nesting beyond the limit', label(nested(LIMITS.jsonDepth)), 400, 'too_deep', `jsonDepth ${LIMITS.jsonDepth}`],
  ['a quarter of a million arrays', nested(250_000), 400, 'too_deep', 'jsonDepth'],
  ['an escaped NUL', label('"a\\u0000b"'), 422, 'unreadable_record', '/label'],
  ['a lone surrogate', label('"a\\ud800b"'), 422, 'unreadable_record', '/label'],
  ['a lone surrogate as a name', `{${unit},"\\udc00":1}`, 422, 'unreadable_record', 'not a known field'],
  ['a number that overflows', label('1e309'), 422, 'unreadable_record', '/label'],
  ['a field given twice', `{${unit},"label":"A","label":"B"}`, 422, 'unreadable_record', '/label is given twice'],
  ['a field given twice, once escaped', `{${unit},"label":"A","l\\u0061bel":"B"}`, 422, 'unreadable_record', '/label'],
  [
    'an unknown field',
    `{${unit},"label":"A","colour":"red"}`,
    422,
    'unreadable_record',
    '/colour is not a known field',
  ],
  ['a prototype', `{${unit},"label":"A","__proto__":{"admin":true}}`, 422, 'unreadable_record', '/__proto__'],
  ['a constructor', `{${unit},"label":"A","constructor":{"prototype":1}}`, 422, 'unreadable_record', '/constructor'],
  ['a missing field', `{${unit}}`, 422, 'unreadable_record', '/label is missing'],
  ['a word that is none of those', `{"type":"ladder","label":"A"}`, 422, 'unreadable_record', '/type was "ladder"'],
  ['a list', '[]', 422, 'unreadable_record', '/'],
  ['null', 'null', 422, 'unreadable_record', '/'],
  ['nothing', '', 422, 'unreadable_record', '/ is missing'],
  [
    'a number for a decimal',
    `{${unit},"label":"A","flowCellVolumeMl":7.1}`,
    422,
    'unreadable_record',
    'a measured value is a decimal string such as "7.10"',
  ],
  ['a decimal with an exponent', `{${unit},"label":"A","flowCellVolumeMl":"7e1"}`, 422, 'unreadable_record', '"7.10"'],
  ['an id that is none', `{${unit},"label":"A","id":"7"}`, 422, 'unreadable_record', '/id was "7"'],
  ['a text over its limit', label(`"${'x'.repeat(65)}"`), 422, 'unreadable_record', '64'],
];

async function stored(): Promise<number> {
  const { rows } = await t.db.bypass.query(
    'select (select count(*) from ledger) + (select count(*) from set_aside) + (select count(*) from receipt) as n',
  );
  return Number(rows[0].n);
}

describe('a body that cannot be read', () => {
  for (const [what, payload, status, code, names] of REFUSED) {
    it(`of ${what} is ${status} ${code}, and nothing of it is stored`, async () => {
      const before = await stored();
      const { status: got, body, headers } = await admin.post('/units', payload);
      expect([got, body.code]).toEqual([status, code]);
      expect(body.detail).toContain(names);
      expect(headers['content-type']).toContain('application/problem+json');
      expect(body).toMatchObject({ status, type: `/v1/problems/${code}`, requestId: headers['x-request-id'] });
      expect(await stored()).toBe(before);
    });
  }

  it('names the limit of a body that is one byte too large, and takes one that is not', async () => {
    const over = await admin.post('/units', ' '.repeat(LIMITS.bodyBytes + 1));
    expect([over.status, over.body.code, over.body.limit]).toEqual([413, 'too_large', 'bodyBytes']);
    expect(over.body.detail).toContain(String(LIMITS.bodyBytes));
    const body = label('"C-full"');
    const full = await admin.post('/units', body + ' '.repeat(LIMITS.bodyBytes - Buffer.byteLength(body)));
    expect(full.status).toBe(201);
  });

  it('names the limit of one change', async () => {
    const id = t.firm.ids.pump;
    const value = 'x'.repeat(LIMITS.mutationBytes);
    const unread = await admin.post('/conflicts/00000000-0000-4000-8000-000000000000/resolve', {
      base: { rev: 1 },
      value,
    });
    expect(unread.status).toBe(404);
    const parts = Array.from({ length: 40 }, (_, part) => ({ part: `p${part}`, material: '界'.repeat(64) }));
    const fits = await admin.patch(`/units/${id}`, { wettedParts: parts, base: { rev: 1 } });
    expect(fits.status).toBe(200);
  });

  it('is refused in another content type', async () => {
    const text = await admin.post('/units', label('"A"'), { 'content-type': 'text/plain' });
    expect([text.status, text.body.code]).toEqual([415, 'unsupported_media']);
    const tricky = await admin.post('/units', label('"A"'), { 'content-type': 'application/jsonx' });
    expect([tricky.status, tricky.body.code]).toEqual([415, 'unsupported_media']);
  });

  it('may begin with a byte order mark and be indented', async () => {
    const text = `\ufeff${JSON.stringify({ type: 'compressor', label: 'C-mark', use: 'shared', ownership: 'owned' }, null, 2)}`;
    expect((await admin.post('/units', text)).status).toBe(201);
  });
});

describe('a request that cannot be read', () => {
  it('names the parameter', async () => {
    const expectBad = async (url: string, names: string) => {
      const { status, body } = await admin.get(url);
      expect([url, status, body.code]).toEqual([url, 400, 'bad_request']);
      expect(body.detail).toContain(names);
    };
    await expectBad('/wells?limit=0', '/limit');
    await expectBad(`/wells?limit=${LIMITS.listPageItems + 1}`, String(LIMITS.listPageItems));
    await expectBad('/wells?limit=1&limit=2', '/limit');
    await expectBad('/wells?colour=red', '/colour');
    await expectBad('/wells?cursor=abc', 'cursor');
    await expectBad('/wells?standing=lost', '/standing');
    await expectBad('/wells/7', '/id');
    const { body } = await admin.get('/wells?limit=1');
    await expectBad(`/units?cursor=${body.next}`, 'cursor');
    expect((await admin.get('/wells/%ff')).status).toBe(400);
    expect((await admin.get('/nowhere')).body.code).toBe('not_found');
  });
});

describe('any JSON at any address', () => {
  it('is answered without a fault of ours', async () => {
    const { body: document } = await admin.get('/openapi.json');
    const paths = document.paths as Record<string, Record<string, { requestBody?: { content: object } }>>;
    const targets = Object.entries(paths).flatMap(([path, methods]) =>
      Object.entries(methods)
        .filter(([, operation]) => 'application/json' in (operation.requestBody?.content ?? {}))
        .map(([method]) => ({ method: method.toUpperCase() as 'POST', url: path.slice(3) })),
    );
    expect(targets.length).toBeGreaterThan(70);
    const someone = fc.constantFrom(...Object.values(t.firm.ids), 'x', '00000000-0000-4000-8000-000000000000');
    const field = fc.oneof(someone, fc.jsonValue({ maxDepth: 2 }), fc.string({ unit: 'binary' }));
    const name = fc.constantFrom('id', 'base', 'reason', 'by', 'requires', 'clock', 'site', 'well', 'visit', 'name');
    const given = fc.oneof(fc.jsonValue(), fc.dictionary(name, field));
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...targets), someone, given, async (target, id, payload) => {
        const url = target.url.replace('{id}', id);
        const { status, body } = await admin.send(target.method, url, JSON.stringify(payload));
        expect([target.method, url, body.code, status < 500]).toEqual([target.method, url, body.code, true]);
      }),
      { numRuns: 300 },
    );
  });
});
