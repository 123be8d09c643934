import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { timeText } from '../clocks.ts';
import type { Gap } from '../custody-gaps.ts';
import { aboutCooler, type CustodyRule } from '../custody-rule.ts';
import type { CustodyVectorGiven } from '../custody-vector.ts';

const carried = { carrier: 'Example Couriers', trackingNumber: '7001' };
const overNight: Required<Pick<CustodyVectorGiven, 'hands'>> = {
  hands: [
    ['out', '17:00', 'Ann Poe', { to: 'Example Couriers' }],
    ['in', '+1 09:00', 'Cy Loe', { organization: 'Laboratory A' }],
  ],
};

function told({ from, until, sentence }: Gap, timeZone: string | null): string {
  if (from === null && until === null) return sentence;
  const time = (at: string | null) => (at === null ? 'an unknown time' : timeText(at, timeZone));
  return `From ${time(from)} to ${time(until)}: ${sentence}`;
}

export const custodyGap: CustodyRule = {
  code: 'custody-gap',
  title: 'For a time nobody is on record as having a cooler',
  severity: 'caution',
  addressee: 'office',
  source: CUSTODY_RULES.inPairs.source,
  verified: CUSTODY_RULES.inPairs.verified,
  isStored: true,
  find(facts) {
    const { gaps } = facts.custody;
    if (gaps.length === 0) return [];
    const texts = gaps.map((gap) => told(gap, facts.timeZone));
    return aboutCooler(
      facts,
      `Nobody is on record as having it. ${texts.join(' ')} Say who had it, or how it was locked up, and have them sign.`,
      gaps.flatMap(({ records, kind }) => records.map((record) => ({ record, shows: kind }))),
    );
  },
  vectors: [
    {
      name: 'no carrier overnight',
      given: overNight,
      expect: 'From 2026-05-04 17:00 to 2026-05-05 09:00: Ann Poe relinquished it to Example Couriers',
    },
    {
      name: 'a carrier without a number',
      given: { ...overNight, cooler: { carrier: 'Example Couriers' }, seals: [['1', '16:50']] },
      expect: 'without a number to follow it by',
    },
    {
      name: 'a carrier without a seal',
      given: { ...overNight, cooler: carried },
      expect: 'no seal is on record as whole',
    },
    {
      name: 'a seal that was broken on the way',
      given: { ...overNight, cooler: carried, seals: [['1', '16:50', '22:00']] },
      expect: 'no seal is on record as whole',
    },
    { name: 'a sealed carrier leg', given: { ...overNight, cooler: carried, seals: [['1', '16:50']] }, expect: null },
    {
      name: 'another carrier than the one named',
      given: {
        cooler: carried,
        seals: [['1', '16:50']],
        hands: [
          ['out', '17:00', 'Ann Poe', { to: 'Other Transport' }],
          ['in', '+1 09:00', 'Cy Loe'],
        ],
      },
      expect: 'relinquished it to Other Transport',
    },
    {
      name: 'received by the laboratory, without a signature',
      given: {
        ...overNight,
        hands: overNight.hands.slice(0, 1),
        cooler: carried,
        seals: [['1', '16:50']],
        receipt: {},
      },
      expect: null,
    },
    {
      name: 'no signature at all',
      given: { cooler: { packed: '16:00' }, receipt: {} },
      expect: 'nobody signed that they relinquished it',
    },
    {
      name: 'from one person to another without a word',
      given: {
        hands: [
          ['out', '12:00', 'Ann Poe'],
          ['in', '12:05', 'Ben Roe'],
          ['out', '15:00', 'Dee Voe'],
          ['in', '15:02', 'Cy Loe'],
        ],
      },
      expect: 'Ben Roe received it, and Dee Voe relinquished it',
    },
    {
      name: 'given on before it was received',
      given: {
        hands: [
          ['out', '12:00', 'Ann Poe', { number: 1 }],
          ['in', '12:04', 'Ben Roe', { number: 1 }],
          ['out', '12:02', 'Dee Voe', { number: 2 }],
          ['in', '12:03', 'Cy Loe', { number: 2 }],
        ],
      },
      expect:
        'as having it. Ben Roe received it, and Dee Voe relinquished it: how it came from the one to the other is not on record. By the times on record the second of these was before the first',
    },
    {
      name: 'the same person with initials',
      given: {
        hands: [
          ['out', '12:00', 'Ann Poe'],
          ['in', '12:05', 'Ben Roe'],
          ['out', '15:00', 'B. Roe'],
          ['in', '15:02', 'Cy Loe'],
        ],
      },
      expect: null,
    },
    {
      name: 'a side that nobody signed',
      given: {
        hands: [
          ['out', '12:00', 'Ann Poe', { number: 1, to: 'Ben Roe' }],
          ['out', '15:00', 'Ben Roe', { number: 2 }],
          ['in', '15:02', 'Cy Loe', { number: 2 }],
        ],
      },
      expect: 'nobody signed that they received it, and Ben Roe had it next',
    },
    { name: 'still on its way', given: { hands: [['out', '12:00', 'Ann Poe']] }, expect: null },
    { name: 'nothing recorded yet', given: {}, expect: null },
  ],
};
