import { minutesFrom, spanText, timeText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { SHIPPING_DEFAULTS } from '../transit.ts';

export const coolerStillOnTheWay: CustodyRule = {
  code: 'cooler-still-on-the-way',
  title: 'A cooler is longer on its way than it should be',
  severity: 'caution',
  addressee: 'office',
  source: SHIPPING_DEFAULTS.source,
  verified: false,
  isStored: false,
  find(facts, { now }) {
    const last = facts.custody.changes.at(-1);
    const left = last?.received ? null : last?.relinquished;
    if (now === null || !left) return [];
    const hours = Number(facts.plan?.transitHours ?? SHIPPING_DEFAULTS.transitHours);
    const minutes = minutesFrom(left.at, now);
    if (minutes <= hours * 60) return [];
    const { carrier, trackingNumber } = facts.cooler.fields;
    const ask = trackingNumber ? `Ask ${carrier ?? 'the carrier'} under ${trackingNumber}` : 'Ask whoever took it';
    const sentence = `${left.name} relinquished it ${timeText(left.at, facts.timeZone)}, ${spanText(minutes)} ago, and nobody is on record as having received it; ${hours} h are planned. ${ask}, and the laboratory.`;
    return aboutCooler(facts, sentence, [shows(left.record, 'at', left.at)]);
  },
  vectors: [
    {
      name: 'after 25 hours',
      given: { hands: [['out', '17:00', 'Ann Poe']], now: '+1 18:00' },
      expect: '25 h ago, and nobody',
    },
    { name: 'after 24 hours', given: { hands: [['out', '17:00', 'Ann Poe']], now: '+1 17:00' }, expect: null },
    {
      name: 'by the plan',
      given: { plan: { transitHours: '4' }, hands: [['out', '12:00', 'Ann Poe']], now: '17:00' },
      expect: '4 h are planned',
    },
    {
      name: 'received',
      given: {
        hands: [
          ['out', '17:00', 'Ann Poe'],
          ['in', '17:05', 'Cy Loe'],
        ],
        now: '+2 18:00',
      },
      expect: null,
    },
    {
      name: 'received by the receipt',
      given: { hands: [['out', '17:00', 'Ann Poe']], receipt: {}, now: '+2 18:00' },
      expect: null,
    },
    { name: 'not asked by the clock', given: { hands: [['out', '17:00', 'Ann Poe']] }, expect: null },
  ],
};
