import canonicalize from 'canonicalize';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/protocol/content-hash.ts';
import { plainJsonText } from '../../src/protocol/plain-json-text.ts';

const LONG = process.env.LONG ? 20_000 : 2_000;

/** What a way of writing does with a value: its text, or that there is none. */
function outcome(write: (value: unknown) => string | undefined, value: unknown): string {
  try {
    return write(value) ?? 'no text';
  } catch {
    return 'no text';
  }
}

function expectSame(value: unknown): void {
  expect(outcome(canonicalText, value)).toBe(outcome(canonicalize, value));
}

const oddKeys = fc.constantFrom('toJSON', '__proto__', '10', '9', '0x', '', 'constructor', '\ud83d\ude00', '\ue000');
const keys = fc.oneof(fc.string({ unit: 'binary' }), fc.string({ unit: 'grapheme' }), oddKeys);
const halves = fc.constantFrom('\ud800', 'a\udc00', '\\ud800', '\\\\ud800', '\u2028', '\0', '"\\\b');
const numbers = fc.oneof(fc.double(), fc.constantFrom(-0, 1e21, 1e-7, Number.NaN, Number.POSITIVE_INFINITY));
const unusual = fc.constantFrom(
  undefined,
  new Date(0),
  Symbol('s'),
  Object('text'),
  new Map([[1, 2]]),
  new Array(2),
  1n,
);
const leaves = fc.oneof(fc.string(), halves, numbers, fc.boolean(), fc.constant(null));

function values(members: fc.Arbitrary<unknown>): fc.Arbitrary<unknown> {
  return fc.letrec<{ value: unknown }>((tie) => ({
    value: fc.oneof(
      { maxDepth: 5, depthSize: 'small' },
      members,
      fc.array(tie('value'), { maxLength: 5 }),
      fc.dictionary(keys, tie('value'), { maxKeys: 8, noNullPrototype: false }),
    ),
  })).value;
}

describe('the text of plain JSON is that of the reference implementation', () => {
  it('for any JSON, with any keys and any halves of pairs in its texts', () => {
    fc.assert(fc.property(values(leaves), expectSame), { numRuns: LONG });
  });

  it('for values that are not JSON, and those that refuse to be written', () => {
    fc.assert(fc.property(values(fc.oneof(leaves, unusual)), expectSame), { numRuns: LONG });
  });

  it('for objects with more keys than are sorted by hand', () => {
    const many = fc.dictionary(keys, leaves, { minKeys: 30, maxKeys: 60 });
    fc.assert(fc.property(many, expectSame), { numRuns: 200 });
  });

  it('for a circle, and for nesting that goes too deep to be one of our records', () => {
    const circle: Record<string, unknown> = {};
    circle.self = circle;
    expectSame(circle);
    expect(() => canonicalText(circle)).toThrow('Circular');
    const deep = JSON.parse(`${'['.repeat(100)}1${']'.repeat(100)}`);
    expectSame(deep);
    expect(plainJsonText(deep)).toBeNull();
  });

  it('and takes the fast way for an ordinary record', () => {
    const record = { b: '7.10', a: { d: [1, null, true], c: 'µS/cm "at" 25 °C' }, e: undefined };
    expect(plainJsonText(record)).toBe('{"a":{"c":"µS/cm \\"at\\" 25 °C","d":[1,null,true]},"b":"7.10"}');
    expectSame(record);
  });
});
