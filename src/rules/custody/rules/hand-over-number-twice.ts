import { listText } from '../../flags/list-text.ts';
import { aboutCooler, type CustodyRule, shows } from '../custody-rule.ts';

export const handOverNumberTwice: CustodyRule = {
  code: 'hand-over-number-twice',
  title: 'Two hand-overs of one cooler have the same number',
  severity: 'question',
  addressee: 'office',
  source: 'Arithmetic of the records: a number pairs one who gives with one who receives',
  verified: true,
  isStored: true,
  find(facts) {
    const { twice } = facts.custody;
    if (twice.length === 0) return [];
    const told = twice.map(({ fields }) => `${fields.name} ${fields.side} it under number ${fields.number}`);
    return aboutCooler(
      facts,
      `${listText(told)}, which another record of that side has already; they were paired by time. Give each hand-over a number of its own.`,
      twice.map(({ id, fields }) => shows(id, 'number', String(fields.number))),
    );
  },
  vectors: [
    {
      name: 'two of one side',
      given: {
        hands: [
          ['out', '10:00', 'Ann Poe', { number: 1 }],
          ['in', '10:02', 'Ben Roe', { number: 1 }],
          ['out', '12:00', 'Ben Roe', { number: 1 }],
        ],
      },
      expect: 'Ben Roe relinquished it under number 1',
    },
    {
      name: 'a pair',
      given: {
        hands: [
          ['out', '10:00', 'Ann Poe', { number: 1 }],
          ['in', '10:02', 'Ben Roe', { number: 1 }],
        ],
      },
      expect: null,
    },
    {
      name: 'none',
      given: {
        hands: [
          ['out', '10:00', 'Ann Poe'],
          ['in', '10:02', 'Ben Roe'],
        ],
      },
      expect: null,
    },
  ],
};
