import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { z } from 'zod';
import type { KindDefinition } from '../../src/protocol/kind.ts';
import { KINDS } from '../../src/protocol/kinds-by-name.ts';
import { LIMITS } from '../../src/protocol/limits.ts';
import { type Body, headerOf, RawPusher } from './raw-pusher.ts';

let t: RawPusher;

beforeAll(async () => {
  t = await RawPusher.open();
});
afterAll(() => t.app.close());

function clocked(sequence: string): string {
  const clock = `{"wall":"2026-05-04T10:05:00-05:00","monotonicMs":1,"boot":"b","sequence":${sequence}}`;
  return `${t.reading('"7.10"').slice(0, -1)},"clock":${clock}}`;
}

const invalid = (bytes: readonly number[]) =>
  Buffer.concat([Buffer.from(t.reading('"7.10"').slice(0, -1)), Buffer.from(bytes), Buffer.from('}')]);
const nested = (depth: number) => '['.repeat(depth) + ']'.repeat(depth);

/** What stands in a line, the code that it is set aside with, and what the outcome names. */
const LINES: readonly (readonly [string, () => Body, string, string])[] = [
  ['NaN', () => t.reading('NaN'), 'unreadable_json', ''],
  ['Infinity', () => t.reading('Infinity'), 'unreadable_json', ''],
  ['-Infinity', () => t.reading('-Infinity'), 'unreadable_json', ''],
  ['a number beyond all numbers', () => t.reading('1e309'), 'unreadable_record', '/set/ph'],
  ['minus zero as a number', () => t.reading('-0'), 'unreadable_record', '/set/ph'],
  ['a number below all numbers', () => t.reading('1e-400'), 'unreadable_record', '/set/ph'],
  ['the text NaN', () => t.reading('"NaN"'), 'unreadable_record', '/set/ph'],
  ['the text 1e309', () => t.reading('"1e309"'), 'unreadable_record', '/set/ph'],
  ['the text 1e-400', () => t.reading('"1e-400"'), 'unreadable_record', '/set/ph'],
  ['2^53 + 1', () => clocked('9007199254740993'), 'unreadable_record', '/clock/sequence'],
  ['an escaped NUL', () => t.reading('"7.10"', ',"remark":"a\\u0000b"'), 'unreadable_record', '/set/remark'],
  ['a bare NUL', () => t.reading('"7.10"', ',"remark":"a\u0000b"'), 'unreadable_json', ''],
  ['half of a surrogate pair', () => t.reading('"7.10"', ',"remark":"a\\ud800b"'), 'unreadable_record', '/set/remark'],
  ['bytes that are not UTF-8', () => invalid([0xff]), 'unreadable_text', 'UTF-8'],
  ['a surrogate in UTF-8', () => invalid([0xed, 0xa0, 0x80]), 'unreadable_text', 'UTF-8'],
  ['an overlong form in UTF-8', () => invalid([0xc0, 0x80]), 'unreadable_text', 'UTF-8'],
  ['an unknown field', () => t.reading('"7.10"', ',"colour":"red"'), 'unreadable_record', '/set/colour'],
  ['a field given twice', () => t.reading('"7.10"', ',"ph":"7.30"'), 'unreadable_record', '/set/ph'],
  [
    'a number given twice',
    () => t.reading('"7.10"').replace('{', '{"mutationId":1,'),
    'unreadable_record',
    '/mutationId',
  ],
  ['a prototype', () => t.reading('"7.10"', ',"__proto__":{"admin":true}'), 'unreadable_record', '/set/__proto__'],
  [
    'a prototype in other letters',
    () => t.reading('"7.10"', ',"\\u005f_proto__":{}'),
    'unreadable_record',
    '/set/__proto__',
  ],
  [
    'a constructor',
    () => t.reading('"7.10"', ',"constructor":{"prototype":{}}'),
    'unreadable_record',
    '/set/constructor',
  ],
  ['a line one byte too long', () => tooLong(1), 'too_large', `mutationBytes ${LIMITS.mutationBytes}`],
  ['nesting beyond the limit', () => t.reading(nested(LIMITS.jsonDepth)), 'too_deep', `jsonDepth ${LIMITS.jsonDepth}`],
  ['ten thousand arrays', () => t.reading(nested(10_000)), 'too_deep', 'jsonDepth'],
  ['a cut line', () => t.reading('"7.10"').slice(0, -20), 'unreadable_json', ''],
  ['nothing', () => '', 'unreadable_json', ''],
  ['a list', () => '[]', 'unreadable_record', '/'],
  ['null', () => 'null', 'unreadable_record', '/'],
  ['another header', () => headerOf(1), 'unreadable_record', '/mutationId'],
  [
    'a day that does not exist',
    () => t.reading('"7.10"').replace('05-04T', '02-30T'),
    'unreadable_record',
    '/set/observed',
  ],
  ['another number', () => t.reading('"7.10"', '', 7), 'wrong_number', '7 stands in the place of 1'],
];

/** A line that is by so many bytes longer than one may be. */
function tooLong(by: number): string {
  const line = (length: number) => t.reading('"7.10"', `,"remark":"${'x'.repeat(length)}"`);
  return line(LIMITS.mutationBytes + by - line(0).length);
}

/** Fields that hold a measured number, of whatever sign. */
function measuredFields({ name, fields }: KindDefinition): { name: string; field: string }[] {
  const isMeasured = (schema: z.ZodType) => {
    return ['7.1', '-0.5'].every((text) => schema.safeParse(text).success) && !schema.safeParse('x').success;
  };
  const shape = Object.entries(fields.shape) as [string, z.ZodType][];
  return shape.flatMap(([field, schema]) => (isMeasured(schema) ? [{ name, field }] : []));
}

describe('a line that cannot be read', () => {
  for (const [what, make, code, names] of LINES) {
    it(`[W10] for ${what} is set aside byte for byte as ${code}, and sinks no other`, async () => {
      const line = make();
      const [bad, good] = await t.lines(line, t.reading('"7.10"', '', 2));
      expect([bad?.outcome, bad?.code]).toEqual(['set_aside', code]);
      expect(`${bad?.detail} ${bad?.pointer}`).toContain(names);
      expect((await t.rawOf(bad?.setAside ?? '')).equals(Buffer.from(line as string))).toBe(true);
      expect(good?.outcome).toBe('applied');
    });
  }

  it('[W10] is one byte longer than one that can be', async () => {
    expect((await t.lines(tooLong(0))).map(({ code }) => code)).toEqual(['unreadable_record']);
  });

  it('[W10] in any measured field of any kind is named with the field, and no database sees it', async () => {
    const nasty = [
      'NaN',
      '1e309',
      '-0',
      '1e-400',
      '"NaN"',
      '"Infinity"',
      '"1e309"',
      '"7,1"',
      '"0x7"',
      '"7.1234567"',
      '"١"',
      '""',
    ];
    const measured = KINDS.filter(({ family }) => family !== 'derived').flatMap(measuredFields);
    expect(measured.length).toBeGreaterThan(30);
    for (const { name, field } of measured) {
      const lines = nasty.map(
        (value, at) =>
          `{"mutationId":${at + 1},"verb":"amend","kind":"${name}","id":"${v7()}","base":{"rev":1},"reason":"why","set":{"${field}":${value}}}`,
      );
      const outcomes = await t.lines(...lines);
      const named = outcomes.map(({ code, pointer }) => code === 'unreadable_json' || pointer === `/set/${field}`);
      expect([name, field, named.every(Boolean), outcomes.map(({ outcome }) => outcome)]).toEqual([
        name,
        field,
        true,
        nasty.map(() => 'set_aside'),
      ]);
    }
  });

  it('[W10] is not one with a sign or zeros that mean nothing: what was typed is kept', async () => {
    const texts = ['-0', '-0.00', '7.100', '0.000001', '-3.2', '999999999.999999'];
    const lines = texts.map((text, at) => t.reading(`"${text}"`, '', at + 1));
    for (const [at, { outcome, id }] of (await t.lines(...lines)).entries()) {
      const { fields } = (await t.read(`/v1/readings/${id}`)) as { fields: { ph: string } };
      expect([outcome, fields.ph]).toEqual(['applied', texts[at]]);
    }
  });
});
