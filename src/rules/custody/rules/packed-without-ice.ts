import { PUBLICATIONS } from '../../../catalog/analytes/publications.ts';
import { needsCold } from '../cold.ts';
import { aboutCooler, type CustodyRule, labelsText, shows } from '../custody-rule.ts';

export const packedWithoutIce: CustodyRule = {
  code: 'packed-without-ice',
  title: 'A cooler was packed and nothing is said of ice',
  severity: 'note',
  addressee: 'tonight',
  source: PUBLICATIONS.tableII2014.source,
  verified: true,
  isStored: true,
  find(facts) {
    const { packed, ice } = facts.cooler.fields;
    const cold = facts.packed.filter(needsCold);
    if (packed == null || ice != null || cold.length === 0) return [];
    return aboutCooler(
      facts,
      `It was packed, and nothing is said of ice, which ${labelsText(cold)} need. Say how much and of what kind was put in.`,
      [shows(facts.cooler.id, 'packed', packed)],
    );
  },
  vectors: [
    { name: 'volatiles', given: { cooler: { packed: '17:00' }, bottles: { a: {} } }, expect: 'which a need' },
    {
      name: 'ice was told',
      given: { cooler: { packed: '17:00', ice: '2 bags of water ice' }, bottles: { a: {} } },
      expect: null,
    },
    {
      name: 'metals alone',
      given: { cooler: { packed: '17:00' }, bottles: { a: { group: 'metals-total' } } },
      expect: null,
    },
    { name: 'still being packed', given: { bottles: { a: {} } }, expect: null },
  ],
};
