import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differenceText, roundedText, sumText } from '../../../src/science/units/decimal-arithmetic.ts';
import { lastPlace, placeWithin, powerOfTen } from '../../../src/science/units/decimal-step.ts';
import {
  asNumber,
  compare,
  decimalFraction,
  dividedBy,
  fraction,
  minus,
  plus,
  times,
} from '../../../src/science/units/fraction.ts';
import { textAtPlace } from '../../../src/science/units/fraction-text.ts';
import { significantDigits } from '../../../src/science/units/significant-digits.ts';
import { placesText, significantText } from '../../../src/science/units/significant-text.ts';

const decimal = fc
  .tuple(fc.integer({ min: -99_999_999, max: 99_999_999 }), fc.integer({ min: 0, max: 6 }))
  .map(([whole, places]) => new Decimal(whole).dividedBy(new Decimal(10).pow(places)).toFixed(places));

describe('fractions', () => {
  it('are kept in lowest terms, with the sign above', () => {
    expect(fraction(6n, -4n)).toEqual({ over: -3n, under: 2n });
    expect(fraction(0n, -4n)).toEqual({ over: 0n, under: 1n });
    expect(decimalFraction('0.3048')).toEqual({ over: 381n, under: 1_250n });
    expect(decimalFraction('-12')).toEqual({ over: -12n, under: 1n });
  });

  it('refuse a zero below, and text that is no plain decimal', () => {
    expect(() => fraction(1n, 0n)).toThrow('1 / 0 is no number');
    for (const text of ['', '1e3', '.5', '5.', 'NaN', '+1', '1,5'])
      expect(() => decimalFraction(text)).toThrow('no plain decimal');
  });

  it('calculate as a decimal library does', () => {
    fc.assert(
      fc.property(decimal, decimal, (a, b) => {
        const [x, y] = [decimalFraction(a), decimalFraction(b)];
        expect(textAtPlace(plus(x, y), -12)).toBe(
          new Decimal(a)
            .plus(b)
            .toFixed(12)
            .replace(/^-(0\.0+)$/, '$1'),
        );
        expect(textAtPlace(minus(x, y), -12)).toBe(
          new Decimal(a)
            .minus(b)
            .toFixed(12)
            .replace(/^-(0\.0+)$/, '$1'),
        );
        expect(textAtPlace(times(x, y), -12)).toBe(
          new Decimal(a)
            .times(b)
            .toFixed(12)
            .replace(/^-(0\.0+)$/, '$1'),
        );
        expect(compare(x, y)).toBe(new Decimal(a).comparedTo(b));
        if (y.over !== 0n) expect(times(dividedBy(x, y), y)).toEqual(x);
        expect(asNumber(x)).toBe(Number(a));
      }),
    );
  });
});

describe('places and digits as entered', () => {
  it.each([
    ['1.50', -2, 3],
    ['100', 0, 3],
    ['0.050', -3, 2],
    ['-7.10', -2, 3],
    ['0.00', -2, 0],
    ['007', 0, 1],
  ])('%s is read to 10^%s and has %s significant digits', (text, place, digits) => {
    expect(lastPlace(text)).toBe(place);
    expect(significantDigits(text)).toBe(digits);
  });

  it('finds the largest power of ten within a size, exactly at it too', () => {
    expect(placeWithin(decimalFraction('0.003048'))).toBe(-3);
    expect(placeWithin(decimalFraction('0.001'))).toBe(-3);
    expect(placeWithin(decimalFraction('0.000999'))).toBe(-4);
    expect(placeWithin(decimalFraction('378.5'))).toBe(2);
    fc.assert(
      fc.property(fc.bigInt({ min: 1n, max: 10n ** 12n }), fc.bigInt({ min: 1n, max: 10n ** 12n }), (a, b) => {
        const size = fraction(a, b);
        const place = placeWithin(size);
        expect(compare(powerOfTen(place), size)).toBeLessThanOrEqual(0);
        expect(compare(powerOfTen(place + 1), size)).toBe(1);
      }),
    );
  });

  it.each([
    ['0.4572', -3, '0.457'],
    ['0.4575', -3, '0.458'],
    ['-0.4575', -3, '-0.458'],
    ['-0.0004', -3, '0.000'],
    ['5678', 2, '5700'],
    ['-50', 2, '-100'],
  ])('%s at 10^%s is %s', (text, place, expected) => {
    expect(roundedText(text, place)).toBe(expected);
  });
});

describe('decimal sums', () => {
  // County file, doc 581018, page 11, Table A-2 (June 1993).
  it('takes 49.90 from 64.52 exactly, which binary numbers do not', () => {
    expect(differenceText('64.52', '49.90')).toBe('14.62');
    expect(String(64.52 - 49.9)).not.toBe('14.62');
  });

  it('keeps the places of the finer one', () => {
    expect(sumText('39.14', '0.3')).toBe('39.44');
    expect(sumText('10', '2')).toBe('12');
    expect(differenceText('9.0', '9.00')).toBe('0.00');
  });

  it('is undone by its opposite', () => {
    fc.assert(
      fc.property(decimal, decimal, (a, b) => {
        expect(new Decimal(differenceText(sumText(a, b), b)).equals(a)).toBe(true);
      }),
    );
  });
});

describe('computed numbers as text', () => {
  it.each([
    [28.634, 3, '28.6'],
    [5678, 2, '5700'],
    [2, 3, '2.00'],
    [9.996, 3, '10.0'],
    [0.0012345, 2, '0.0012'],
    [-0.25, 1, '-0.3'],
    [0, 3, '0'],
  ])('%s with %s digits is %s', (value, digits, text) => {
    expect(significantText(value, digits)).toBe(text);
  });

  it('has never a minus before nothing', () => {
    expect(placesText(-0.004, 2)).toBe('0.00');
    expect(placesText(-0.006, 2)).toBe('-0.01');
    expect(placesText(2.345, 2)).toBe('2.35');
  });

  it('loses less than half of the last digit', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), fc.integer({ min: 1, max: 8 }), (value, digits) => {
        const off = Math.abs(Number(significantText(value, digits)) - value) / value;
        expect(off).toBeLessThanOrEqual(0.5 * 10 ** (1 - digits) + 1e-12);
      }),
    );
  });
});
