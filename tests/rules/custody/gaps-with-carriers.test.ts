import { describe, expect, it } from 'vitest';
import type { CustodyVectorGiven } from '../../../src/rules/custody/custody-vector.ts';
import { vectorFacts } from '../../../src/rules/custody/vector-facts.ts';

const kinds = (given: CustodyVectorGiven) => vectorFacts(given).custody.gaps.map(({ kind }) => kind);

describe('a carrier whose driver signed that it was received', () => {
  const hands = [
    ['out', '17:00', 'Ann Poe', { number: 1, to: 'Example Couriers' }],
    ['in', '17:05', 'Dee Voe', { number: 1, organization: 'Example Couriers' }],
    ['in', '+1 09:00', 'Cy Loe', { number: 2, organization: 'Laboratory A' }],
  ] as const;
  const cooler = { carrier: 'Example Couriers', trackingNumber: '7001' };

  it('need not sign that it was given on, under a number and a seal that was whole on the way', () => {
    expect(kinds({ cooler, hands, seals: [['1', '16:50']] })).toEqual([]);
  });

  it.each([
    ['a seal that was broken on the way', { cooler, seals: [['1', '16:50', '22:00']] as const }],
    ['no seal', { cooler }],
    ['no number', { cooler: { carrier: 'Example Couriers' }, seals: [['1', '16:50']] as const }],
    [
      'the number of another carrier',
      { cooler: { ...cooler, carrier: 'Other Transport' }, seals: [['1', '16:50']] as const },
    ],
  ])('leaves a gap with %s', (_what, more) => expect(kinds({ hands, ...more })).toContain('not-relinquished'));
});

it('a gap of which neither side was signed is told once', () => {
  const hands = [
    ['out', '12:00', 'Ann Poe', { number: 1 }],
    ['in', '15:00', 'Cy Loe', { number: 2 }],
  ] as const;
  expect(kinds({ hands })).toEqual(['not-received']);
});
