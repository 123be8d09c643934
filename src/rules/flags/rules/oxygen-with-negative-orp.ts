import { chemistryFlags, IN_A_CELL, stands } from '../facts/chemistry-flags.ts';
import type { FlagRule } from '../flag-rule.ts';

const code = 'oxygen-with-negative-orp';
const counts = stands(({ dissolvedOxygenMgPerL, orpMv }) => dissolvedOxygenMgPerL !== null && orpMv !== null);

const clash = { dissolvedOxygenMgPerL: '3.10', orpMv: '-182' };
const calm = { dissolvedOxygenMgPerL: '0.30', orpMv: '-190' };

/** Tonight, for waters mix in a screen and sensors are slow: the oxygen sensor at zero and the ORP solution tell. */
export const oxygenWithNegativeOrp: FlagRule = {
  code,
  title: 'Oxygen and a strongly negative ORP, to the end of the purge',
  severity: 'question',
  addressee: 'tonight',
  source:
    'US EPA, EPA/600/R-98/128, 1998, scoring of oxygen and ORP (from memory); 1.0 mg/L and three readings in a row: common practice, no source',
  verified: false,
  methods: IN_A_CELL,
  yieldsTo: ['value-not-believable', 'oxygen-figures-disagree', 'oxygen-above-saturation'],
  evaluate: ({ bundle }) => chemistryFlags(bundle, { code, fields: () => ['dissolvedOxygenMgPerL', 'orpMv'], counts }),
  vectors: [
    { name: 'it stays', given: { readings: [clash, clash, clash] }, expect: 'raised', says: 'ORP -182 mV' },
    {
      name: 'a reading without ORP in between tells nothing',
      given: { readings: [clash, clash, { dissolvedOxygenMgPerL: '3.00' }, clash] },
      expect: 'raised',
    },
    { name: 'both on their way at the start', given: { readings: [clash, clash, clash, calm] }, expect: 'silent' },
    { name: 'reducing water', given: { readings: [calm, calm, calm, calm] }, expect: 'silent' },
    {
      name: 'oxygen and an ORP that fits it',
      given: { readings: Array(4).fill({ dissolvedOxygenMgPerL: '6.20', orpMv: '145' }) },
      expect: 'silent',
    },
    {
      name: 'air in the line tells it better',
      given: { readings: Array(3).fill({ ...clash, temperatureC: '15', dissolvedOxygenMgPerL: '12.5' }) },
      expect: 'silent',
    },
  ],
};
