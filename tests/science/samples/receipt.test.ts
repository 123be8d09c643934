import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { handOverOrder } from '../../../src/science/samples/hand-over-order.ts';
import { judgeReceiptTemperature } from '../../../src/science/samples/receipt-temperature.ts';
import { given, why } from './given.ts';

const cool = { atMostC: '6', mayFreeze: false, isSameDayOnIce: false };

describe('temperature at receipt', () => {
  it.each([
    ['6.0', 'within'],
    ['6', 'within'],
    ['6.1', 'too-warm'],
    ['6.4', 'too-warm'],
    ['6.0001', 'too-warm'],
    ['-0.2', 'below-zero'],
    ['0.0', 'within'],
  ])('%s °C where 6 is the limit: %s', (readingC, expected) => {
    expect(judgeReceiptTemperature({ ...cool, readingC })).toBe(expected);
  });

  it('without a reading is incomplete and no failure, ice or not', () => {
    expect(judgeReceiptTemperature({ ...cool, readingC: null })).toBe('not-recorded');
    expect(judgeReceiptTemperature({ ...cool, readingC: null, isSameDayOnIce: true })).toBe('not-recorded');
  });

  it('above the limit on the day of collection, on ice, is no fault', () => {
    expect(judgeReceiptTemperature({ ...cool, readingC: '11.2', isSameDayOnIce: true })).toBe('warm-same-day');
  });

  it('7 °C does not touch what need not be cooled, and frozen PFAS may be', () => {
    expect(judgeReceiptTemperature({ ...cool, atMostC: null, readingC: '7' })).toBe('no-limit');
    expect(judgeReceiptTemperature({ readingC: '-21', atMostC: '-20', mayFreeze: true, isSameDayOnIce: false })).toBe(
      'within',
    );
  });

  it('a warmer reading is never judged better than a colder one above zero', () => {
    fc.assert(
      fc.property(fc.nat(3_000), fc.nat(3_000), (a, b) => {
        const judged = (hundredths: number) =>
          judgeReceiptTemperature({ ...cool, readingC: (hundredths / 100).toFixed(2) });
        if (judged(Math.min(a, b)) === 'too-warm') expect(judged(Math.max(a, b))).toBe('too-warm');
        expect(judged(a)).toBe(a <= 600 ? 'within' : 'too-warm');
      }),
    );
  });

  it('refuses what is no number', () => {
    expect(why(judgeReceiptTemperature({ ...cool, readingC: 'cold' }))).toContain('no plain decimal');
  });
});

describe('a hand-over', () => {
  const at = (clock: string) => `2026-05-04T${clock}:00-05:00`;
  const pair = (given_: string, taken: string, isCarrierLeg = false) => ({
    relinquishedAt: at(given_),
    receivedAt: at(taken),
    isCarrierLeg,
  });

  it.each([
    ['10:05', '09:58', 'note', -7],
    ['10:05', '09:50', 'note', -15],
    ['10:05', '09:49', 'question', -16],
    ['10:05', '09:30', 'question', -35],
    ['10:05', '10:05', 'in-order', 0],
  ])('given %s, received %s: %s', (relinquished, received, order, minutes) => {
    expect(handOverOrder(pair(relinquished, received), 15)).toEqual({ order, minutes, isGap: false });
  });

  it('received hours later is a gap, but not where a carrier had it', () => {
    expect(given(handOverOrder(pair('10:05', '14:05'), 15)).isGap).toBe(true);
    expect(given(handOverOrder(pair('10:05', '14:05', true), 15)).isGap).toBe(false);
    expect(given(handOverOrder(pair('10:05', '10:20'), 15)).isGap).toBe(false);
  });

  it('is compared by instant, not by what the clocks show', () => {
    const between = {
      relinquishedAt: '2026-05-04T10:05:00-05:00',
      receivedAt: '2026-05-04T09:10:00-06:00',
      isCarrierLeg: true,
    };
    expect(handOverOrder(between, 15)).toEqual({ order: 'in-order', minutes: 5, isGap: false });
  });

  it('refuses a time without offset and clocks that differ by less than nothing', () => {
    expect(why(handOverOrder({ ...pair('10:05', '10:05'), receivedAt: '10:05' }, 15))).toContain('no offset');
    expect(why(handOverOrder(pair('10:05', '10:05'), -1))).toContain('0 or more');
  });
});
