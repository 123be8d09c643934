import { listText } from '../../flags/list-text.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { keptFrom, keptUntil, nightsKept } from '../nights.ts';

export const keptTonightUnchecked: CustodyRule = {
  code: 'kept-tonight-unchecked',
  title: 'A cooler that is still kept was not looked after in a night',
  severity: 'caution',
  addressee: 'tonight',
  source: 'Common practice, no source: who keeps a cooler overnight records its ice, place, temperature and seals',
  verified: false,
  isStored: false,
  find(facts, { now }) {
    if (now === null || keptUntil(facts) !== null) return [];
    const nights = nightsKept(facts, now).filter(({ checks }) => checks.length === 0);
    if (nights.length === 0) return [];
    const days = listText(nights.map(({ day }) => day));
    const sentence = `It is still kept, and nobody looked after it in the night of ${days}. Look now: ice, place, temperature, seals; and record it.`;
    return aboutCooler(facts, sentence, [shows(facts.cooler.id, 'packed', keptFrom(facts) ?? '')]);
  },
  vectors: [
    {
      name: 'the next morning',
      given: { cooler: { packed: '17:00' }, now: '+1 07:00' },
      expect: 'in the night of 2026-05-04',
    },
    { name: 'the same evening', given: { cooler: { packed: '17:00' }, now: '23:00' }, expect: null },
    {
      name: 'looked after',
      given: { cooler: { packed: '17:00' }, checks: [['22:00', {}]], now: '+1 07:00' },
      expect: null,
    },
    {
      name: 'given away: that is on record',
      given: { cooler: { packed: '17:00' }, hands: [['out', '+1 06:00', 'Ann Poe']], now: '+1 07:00' },
      expect: null,
    },
    { name: 'not asked by the clock', given: { cooler: { packed: '17:00' } }, expect: null },
  ],
};
