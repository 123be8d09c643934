import { listText } from '../../flags/list-text.ts';
import { needsCold } from '../cold.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { keptFrom, keptUntil, nightsKept } from '../nights.ts';

export const keptOvernightUnchecked: CustodyRule = {
  code: 'kept-overnight-unchecked',
  title: 'A cooler was kept overnight and nobody looked after it',
  severity: 'caution',
  addressee: 'office',
  source: 'Common practice, no source: who keeps a cooler overnight records its ice, place, temperature and seals',
  verified: false,
  isStored: true,
  find(facts) {
    const nights = nightsKept(facts).filter(({ checks }) => checks.length === 0);
    if (nights.length === 0) return [];
    const cold = facts.packed.some(needsCold) ? ' Whether it was cold, and' : '';
    const days = listText(nights.map(({ day }) => day));
    const [from, until] = [keptFrom(facts) ?? '', keptUntil(facts) ?? ''];
    const sentence = `It was kept through the night of ${days}, and no check of it is on record.${cold === '' ? ' Where' : `${cold} where`} it stood and how it was locked up, say from what was written down then.`;
    return aboutCooler(facts, sentence, [shows(facts.cooler.id, 'packed', `${from} to ${until}`)]);
  },
  vectors: [
    {
      name: 'packed in the evening, driven in the morning',
      given: {
        cooler: { packed: '17:00' },
        hands: [
          ['out', '+1 08:00', 'Ann Poe'],
          ['in', '+1 08:05', 'Cy Loe'],
        ],
      },
      expect: 'through the night of 2026-05-04',
    },
    {
      name: 'looked after in the evening',
      given: {
        cooler: { packed: '17:00' },
        checks: [['20:00', { ice: true }]],
        hands: [
          ['out', '+1 08:00', 'Ann Poe'],
          ['in', '+1 08:05', 'Cy Loe'],
        ],
      },
      expect: null,
    },
    {
      name: 'looked after in the morning',
      given: {
        cooler: { packed: '17:00' },
        checks: [['+1 07:00', { ice: true }]],
        hands: [
          ['out', '+1 08:00', 'Ann Poe'],
          ['in', '+1 08:05', 'Cy Loe'],
        ],
      },
      expect: null,
    },
    {
      name: 'given to a carrier before midnight',
      given: {
        cooler: { packed: '17:00' },
        hands: [
          ['out', '18:00', 'Ann Poe'],
          ['in', '+1 09:00', 'Cy Loe'],
        ],
      },
      expect: null,
    },
    {
      name: 'two nights, one looked after',
      given: {
        cooler: { packed: '17:00' },
        checks: [['20:00', {}]],
        hands: [
          ['out', '+2 08:00', 'Ann Poe'],
          ['in', '+2 08:05', 'Cy Loe'],
        ],
      },
      expect: 'through the night of 2026-05-05,',
    },
    {
      name: 'with a carrier through the night, who signs nothing at the laboratory',
      given: {
        cooler: { packed: '17:00' },
        hands: [
          ['out', '18:00', 'Ann Poe'],
          ['in', '18:00', 'Di Roe'],
          ['in', '+1 09:00', 'Cy Loe'],
        ],
      },
      expect: null,
    },
    { name: 'still kept: who asks is told', given: { cooler: { packed: '17:00' } }, expect: null },
  ],
};
