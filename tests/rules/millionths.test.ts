import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decimalText, millionths } from '../../src/rules/millionths.ts';

/** The oracle: move the decimal point as text. */
function oracle(text: string): bigint {
  const [whole = '', part = ''] = text.replace('-', '').split('.');
  const size = BigInt(whole + part.padEnd(6, '0'));
  return text.startsWith('-') ? -size : size;
}

const decimal = fc
  .tuple(
    fc.boolean(),
    fc.integer({ min: 0, max: 999_999_999 }),
    fc.option(fc.stringMatching(/^\d{1,6}$/), { nil: undefined }),
  )
  .map(([minus, whole, part]) => `${minus ? '-' : ''}${whole}${part === undefined ? '' : `.${part}`}`);

it('a decimal is a whole number of millionths, exactly', () => {
  expect(millionths('7.10')).toBe(7_100_000);
  expect(millionths('999999999.999999')).toBe(999_999_999_999_999);
  fc.assert(
    fc.property(decimal, (text) => {
      expect(BigInt(millionths(text))).toBe(oracle(text));
    }),
  );
});

it('and back, in its shortest text', () => {
  expect(decimalText(27_700_000)).toBe('27.7');
  expect(decimalText(100_000_000)).toBe('100');
  expect(decimalText(-400_000)).toBe('-0.4');
  expect(decimalText(0)).toBe('0');
  fc.assert(
    fc.property(decimal, (text) => {
      const value = millionths(text);
      expect(Math.abs(millionths(decimalText(value)) - value)).toBe(0);
    }),
  );
});
