import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalText, millionths, millionthsText, placesOf } from '../../src/science/millionths.ts';

const measured = fc
  .tuple(fc.boolean(), fc.integer({ min: 0, max: 999_999_999 }), fc.integer({ min: 0, max: 6 }), fc.nat(999_999))
  .map(([negative, whole, places, rest]) => {
    const decimals = places === 0 ? '' : `.${String(rest).padStart(6, '0').slice(0, places)}`;
    return `${negative ? '-' : ''}${whole}${decimals}`;
  });

describe('millionths', () => {
  it('A1 reads every decimal of the wire exactly, as an arbitrary-precision library does', () => {
    fc.assert(
      fc.property(measured, (text) => {
        expect(new Decimal(millionths(text)).eq(new Decimal(text).times(1e6))).toBe(true);
      }),
    );
  });

  it('A1 finds 7.23 - 7.13 to be 0.10, where binary fractions find 0.10000000000000053', () => {
    expect(7.23 - 7.13).toBeGreaterThan(0.1);
    expect(millionths('7.23') - millionths('7.13')).toBe(millionths('0.10'));
  });

  it('gives a text back as it was, with the places it had', () => {
    fc.assert(
      fc.property(measured, (text) => {
        const same = millionthsText(millionths(text), placesOf(text));
        expect(same).toBe(/^-0(\.0*)?$/.test(text) ? text.slice(1) : text);
      }),
    );
  });

  it.each(['1e5', '1,5', '1.2.3', ' 1', 'NaN', '0x1', '1.1234567', '--1'])(
    'refuses "%s", which is no decimal',
    (text) => {
      expect(millionths(text)).toBeNaN();
    },
  );

  it('has no negative zero, which would print as "-0"', () => {
    expect(Object.is(millionths('-0.0'), 0)).toBe(true);
  });

  it.each([7, -1, 1.5, Number.NaN])('refuses to print %s places, which millionths do not have', (places) => {
    expect(() => millionthsText(7_100_000, places)).toThrow(RangeError);
    expect(() => millionthsText(7_100_000, places)).toThrow(`not ${places}`);
  });

  it('prints every place from none to six', () => {
    const texts = [0, 1, 2, 3, 4, 5, 6].map((places) => millionthsText(7_000_000, places));
    expect(texts).toEqual(['7', '7.0', '7.00', '7.000', '7.0000', '7.00000', '7.000000']);
  });

  it('prints whole numbers and big integers', () => {
    expect(decimalText(-5, 0)).toBe('-5');
    expect(decimalText(-5, 2)).toBe('-0.05');
    expect(decimalText(12345678901234567890n, 2)).toBe('123456789012345678.90');
  });
});
