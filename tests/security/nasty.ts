import fc from 'fast-check';

/** Numbers as JSON writes them that no field can hold as they stand, or that a careless reader changes. */
export const NASTY_NUMBERS: readonly string[] = [
  'NaN',
  'Infinity',
  '-Infinity',
  '1e309',
  '-0',
  '1e-400',
  '9007199254740993',
  '-1',
  '2147483648',
  '0x10',
  '1.0000000000000000000001',
];

/** Texts as JSON writes them. */
export const NASTY_TEXTS: readonly string[] = [
  '""',
  '"\\u0000"',
  '"a\\u0000b"',
  '"\\ud800"',
  '"\\udc00\\ud800"',
  '"NaN"',
  '"Infinity"',
  '"1e309"',
  '"-0"',
  '"1e-400"',
  '"7,10"',
  '" 7.10"',
  '"٧"',
  '"0000-01-01"',
  '"2026-02-30"',
  '"2026-02-30T10:00:00Z"',
  '"0000-01-01T00:00:00Z"',
  '"9999-12-31T23:59:59+18:00"',
  '"2026-05-04T24:00:00Z"',
  '"2026-05-04T10:00:00+16:00"',
  '"2026-05-04T10:00:60Z"',
  '"__proto__"',
  '"constructor"',
  '"{}"',
  '"\\\\"',
  '"},{"',
  '"\u202e"',
  '"\u00e9"',
  '"e\u0301"',
  `"${'x'.repeat(4_001)}"`,
  `"${'😀'.repeat(2_000)}"`,
];

export const NASTY_VALUES: readonly string[] = [
  'null',
  'true',
  '[]',
  '{}',
  '[[]]',
  '{"__proto__":{"admin":true}}',
  '{"constructor":{"prototype":{}}}',
  '{"toString":1}',
  '["\\ud800"]',
  `${'['.repeat(40)}${']'.repeat(40)}`,
  'undefined',
];

export const nasty: fc.Arbitrary<string> = fc.constantFrom(...NASTY_NUMBERS, ...NASTY_TEXTS, ...NASTY_VALUES);

/** A mark in a value that stands for a text which is put in when the value is written. */
const MARK = 'nasty-value-stands-here';

function marked(value: unknown, path: readonly string[]): unknown {
  const [at, ...below] = path;
  if (at === undefined) return MARK;
  if (Array.isArray(value)) return value.map((one, index) => (String(index) === at ? marked(one, below) : one));
  return { ...(value as object), [at]: marked(Reflect.get(value as object, at), below) };
}

function places(value: unknown, path: readonly string[] = []): string[][] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, inner]) => [[...path, name], ...places(inner, [...path, name])]);
}

/** The text of a value with another text at one of its places. */
export function withNasty(value: unknown, at: number, instead: string): string {
  const all = places(value);
  const path = all[at % Math.max(all.length, 1)];
  if (path === undefined) return instead;
  return JSON.stringify(marked(value, path)).replace(JSON.stringify(MARK), () => instead);
}

export type Spoil = (text: string, value: unknown) => string | Buffer;

function inserted(at: number, more: readonly number[]): Spoil {
  return (text) => {
    const bytes = Buffer.from(text);
    const cut = at % (bytes.length + 1);
    return Buffer.concat([bytes.subarray(0, cut), Buffer.from(more), bytes.subarray(cut)]);
  };
}

const NASTY_BYTES: readonly (readonly number[])[] = [
  [0],
  [0xff],
  [0xed, 0xa0, 0x80],
  [0xc0, 0x80],
  [0xef, 0xbb, 0xbf],
  [0x22],
  [0x5c],
];

/** What may happen to the text of a body on its way. */
export const spoil: fc.Arbitrary<{ readonly what: string; readonly spoil: Spoil }> = fc.oneof(
  { weight: 16, arbitrary: fc.constant({ what: 'as it is', spoil: (text: string) => text }) },
  {
    weight: 6,
    arbitrary: fc.tuple(fc.nat(), nasty).map(([at, instead]) => ({
      what: `a value ${instead.slice(0, 40)}`,
      spoil: (_: string, value: unknown) => withNasty(value, at, instead),
    })),
  },
  {
    weight: 2,
    arbitrary: fc
      .constantFrom('colour', '__proto__', 'constructor', 'firm', 'rev', 'voided', 'kind', 'client')
      .map((name) => ({
        what: `an unknown field ${name}`,
        spoil: (text: string) =>
          text.replace(/^\{/, () => `{${JSON.stringify(name)}:{"a":1}${text === '{}' ? '' : ','}`),
      })),
  },
  {
    weight: 1,
    arbitrary: fc
      .nat()
      .map((at) => ({ what: 'cut', spoil: (text: string) => text.slice(0, at % Math.max(text.length, 1)) })),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(fc.nat(), fc.constantFrom(...NASTY_BYTES)).map(([at, bytes]) => ({
      what: `bytes ${bytes.join(' ')} at ${at}`,
      spoil: inserted(at, bytes),
    })),
  },
  { weight: 1, arbitrary: nasty.map((text) => ({ what: `only ${text.slice(0, 40)}`, spoil: () => text })) },
);
