import { listText } from '../../flags/list-text.ts';
import { checkLacks } from '../check-lacks.ts';
import { timeText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';
import { nightsKept } from '../nights.ts';

export const coolerCheckIncomplete: CustodyRule = {
  code: 'cooler-check-incomplete',
  title: 'The check of a cooler that was kept overnight leaves something out',
  severity: 'note',
  addressee: 'tonight',
  source: 'Common practice, no source: who keeps a cooler overnight records its ice, place, temperature and seals',
  verified: false,
  isStored: true,
  find(facts) {
    const parts = nightsKept(facts).flatMap(({ checks }) => {
      const missing = checkLacks(checks, facts);
      const last = checks.at(-1);
      return last && missing.length > 0 ? [{ check: last, missing }] : [];
    });
    if (parts.length === 0) return [];
    const told = parts.map(
      ({ check, missing }) => `${timeText(check.fields.observed.at, facts.timeZone)} without ${listText(missing)}`,
    );
    return aboutCooler(
      facts,
      `It was kept overnight and looked after ${listText(told)}. Add what was read or seen then.`,
      parts.map(({ check, missing }) => shows(check.id, 'observed', missing.join(', '))),
    );
  },
  vectors: [
    {
      name: 'ice alone',
      given: {
        cooler: { packed: '17:00' },
        bottles: { a: {} },
        checks: [['20:00', { ice: true, place: 'locked truck' }]],
        hands: [['out', '+1 08:00', 'Ann Poe']],
      },
      expect: '2026-05-04 20:00 without temperature.',
    },
    {
      name: 'all of it',
      given: {
        cooler: { packed: '17:00' },
        bottles: { a: {} },
        seals: [['S-1', '17:00']],
        checks: [['20:00', { ice: true, place: 'locked truck', temperatureC: '3.1', sealsIntact: true }]],
        hands: [['out', '+1 08:00', 'Ann Poe']],
      },
      expect: null,
    },
    {
      name: 'metals alone need no ice',
      given: {
        cooler: { packed: '17:00' },
        bottles: { a: { group: 'metals-total' } },
        checks: [['20:00', { place: 'locked truck' }]],
        hands: [['out', '+1 08:00', 'Ann Poe']],
      },
      expect: null,
    },
    {
      name: 'not kept overnight',
      given: {
        cooler: { packed: '12:00' },
        bottles: { a: {} },
        checks: [['13:00', {}]],
        hands: [['out', '14:00', 'Ann Poe']],
      },
      expect: null,
    },
  ],
};
