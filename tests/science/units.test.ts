import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ninthsFromCelsius, ninthsFromFahrenheit } from '../../src/science/fahrenheit.ts';
import { feetAtMostMetres } from '../../src/science/feet-metres.ts';
import { instantMs } from '../../src/science/instant-ms.ts';
import { millionths } from '../../src/science/millionths.ts';
import { isRefusal, refuse } from '../../src/science/refusal.ts';
import { roundHalfAway } from '../../src/science/round-half-away.ts';

describe('instants', () => {
  it('reads what the general parser of the language reads', () => {
    const date = fc.date({ min: new Date('0001-01-01'), max: new Date('9999-12-31'), noInvalidDate: true });
    const offset = fc.tuple(fc.constantFrom('+', '-'), fc.nat(17), fc.nat(59)).map(([sign, hours, minutes]) => {
      return `${sign}${String(hours).padStart(2, '0')}:${String(minutes).padStart(2, '0')}`;
    });
    fc.assert(
      fc.property(date, fc.oneof(offset, fc.constant('Z')), fc.integer({ min: 0, max: 3 }), (when, zone, digits) => {
        const [seconds, rest] = [when.toISOString().slice(0, 19), when.toISOString().slice(20, 23)];
        const text = `${seconds}${digits === 0 ? '' : `.${rest.slice(0, digits)}`}${zone}`;
        expect(instantMs(text)).toBe(Date.parse(text));
      }),
    );
  });

  it.each(['2026-05-04T10:05:00-05:00', '2024-02-29T23:59:59.999Z', '2000-03-01T00:00:00+13:45'])(
    'reads %s',
    (text) => {
      expect(instantMs(text)).toBe(Date.parse(text));
    },
  );
});

describe('temperature', () => {
  // 53.6 °F is 12 °C (definition of the scales).
  it('holds 53.6 °F and 12 °C as the same whole number', () => {
    expect(ninthsFromFahrenheit(millionths('53.6'))).toBe(ninthsFromCelsius(millionths('12')));
    expect(ninthsFromFahrenheit(millionths('32'))).toBe(0);
    expect(ninthsFromFahrenheit(millionths('-40'))).toBe(ninthsFromCelsius(millionths('-40')));
  });
});

describe('feet and metres', () => {
  // 0.1 m = 0.328 ft, and is not 0.3 ft (1 ft = 0.3048 m exactly).
  it.each([
    ['0.3', '0.1', true],
    ['0.328', '0.1', true],
    ['0.329', '0.1', false],
    ['1', '0.3048', true],
    ['1', '0.304799', false],
    ['999999', '0.1', false],
  ])('%s ft is within %s m: %s', (feet, metres, expected) => {
    expect(feetAtMostMetres(feet, metres)).toBe(expected);
  });
});

describe('rounding', () => {
  it.each([
    ['9.25', 1, '9.3'],
    ['-9.25', 1, '-9.3'],
    ['9.21', 1, '9.2'],
    ['9.08', 1, '9.1'],
    ['-0.04', 1, '0'],
    ['0.5', 0, '1'],
    ['7.123456', 6, '7.123456'],
    ['7.123456', 9, '7.123456'],
  ])('rounds %s to %s places as %s', (text, places, expected) => {
    expect(Object.is(roundHalfAway(millionths(text), places), millionths(expected))).toBe(true);
  });

  it('rounds as an arbitrary-precision library does', () => {
    fc.assert(
      fc.property(fc.integer({ min: -1e12, max: 1e12 }), fc.nat(6), (value, places) => {
        const oracle = new Decimal(value).div(1e6).toDecimalPlaces(places, Decimal.ROUND_HALF_UP).times(1e6);
        expect(roundHalfAway(value, places) === oracle.toNumber()).toBe(true);
      }),
    );
  });
});

describe('refusals', () => {
  it('tells a refusal from a number', () => {
    expect(isRefusal(refuse('no density given'))).toBe(true);
    for (const other of [1, null, undefined, 'refused', {}]) expect(isRefusal(other)).toBe(false);
  });
});
