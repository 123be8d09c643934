import { isAfter, timeText } from '../clocks.ts';
import { aboutCooler, type CustodyRule, labelsText, shows } from '../custody-rule.ts';

export const collectedAfterHandOver: CustodyRule = {
  code: 'collected-after-hand-over',
  title: 'A container was filled after its cooler was given away',
  severity: 'question',
  addressee: 'office',
  source: 'Arithmetic of the records: what is in a cooler was filled before it left',
  verified: true,
  isStored: true,
  find(facts) {
    const last = facts.custody.changes.at(-1);
    const left = last?.relinquished?.at ?? last?.received?.at;
    if (left === undefined) return [];
    const its = facts.packed.filter(({ collected }) => collected !== null && isAfter(collected, left));
    if (its.length === 0) return [];
    return aboutCooler(
      facts,
      `It was given away ${timeText(left, facts.timeZone)}, and ${labelsText(its)} ${its.length === 1 ? 'was' : 'were'} filled after that. Correct the time that is wrong, or say in which cooler ${its.length === 1 ? 'it is' : 'they are'}.`,
      its.map(({ container, fill, collected }) => shows(fill?.id ?? container.id, 'collected', collected ?? '')),
    );
  },
  vectors: [
    {
      name: 'filled in the evening',
      given: { bottles: { a: { collected: '19:00' } }, hands: [['out', '17:00', 'Ann Poe']] },
      expect: 'a was filled after that',
    },
    {
      name: 'received before it was filled',
      given: { bottles: { a: { collected: '+1 10:00' } }, receipt: {} },
      expect: 'It was given away 2026-05-05 09:00',
    },
    {
      name: 'minutes later, by another clock',
      given: { bottles: { a: { collected: '17:10' } }, hands: [['out', '17:00', 'Ann Poe']] },
      expect: null,
    },
    { name: 'filled before', given: { bottles: { a: {} }, hands: [['out', '17:00', 'Ann Poe']] }, expect: null },
    {
      name: 'added before the second hand-over',
      given: {
        bottles: { a: { collected: '15:00' } },
        hands: [
          ['out', '12:00', 'Ann Poe'],
          ['in', '12:05', 'Ben Roe'],
          ['out', '17:00', 'Ben Roe'],
        ],
      },
      expect: null,
    },
  ],
};
