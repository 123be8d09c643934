import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalText } from '../../src/protocol/content-hash.ts';
import { isSameJson } from '../../src/protocol/same-json.ts';

const numRuns = process.env.LONG ? 10_000 : 1_500;

/** Few keys and values, so that two of them are often alike. */
const small = fc.letrec<{ value: unknown }>((tie) => ({
  value: fc.oneof(
    { maxDepth: 3, depthSize: 'small' },
    fc.constantFrom(null, true, false, 0, -0, 1, '', '1', 'a', '0'),
    fc.array(tie('value'), { maxLength: 2 }),
    fc.dictionary(fc.constantFrom('a', 'b', '0', 'length', 'constructor'), tie('value'), {
      maxKeys: 2,
      noNullPrototype: true,
    }),
  ),
})).value;

function expectAgreement(one: unknown, other: unknown): void {
  expect(isSameJson(one, other)).toBe(canonicalText(one) === canonicalText(other));
}

describe('two values are the same where their canonical texts are', () => {
  it('for values that are often alike', () => {
    fc.assert(fc.property(small, small, expectAgreement), { numRuns });
  });

  it('for a value and itself read back, with its keys in another order', () => {
    const turned = (value: unknown): unknown => JSON.parse(canonicalText(value));
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expectAgreement(value, turned(value));
        expect(isSameJson(value, turned(value))).toBe(true);
      }),
      { numRuns },
    );
  });

  it('for any two values', () => {
    fc.assert(fc.property(fc.jsonValue(), fc.jsonValue(), expectAgreement), { numRuns });
  });

  it('where a member that is undefined is none', () => {
    expectAgreement({ a: 1, b: undefined }, { a: 1 });
    expectAgreement({ b: undefined }, { a: 1 });
    expectAgreement({ a: undefined, b: 1 }, { a: 1, b: undefined });
    expectAgreement([], {});
  });
});
