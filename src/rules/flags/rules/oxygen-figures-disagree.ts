import { chemistryFlags, IN_A_CELL } from '../facts/chemistry-flags.ts';
import type { FlagRule } from '../flag-rule.ts';

const code = 'oxygen-figures-disagree';
const water = { temperatureC: '20.0', dissolvedOxygenMgPerL: '3.76' };

/** Arithmetic says so, and whoever typed it can look at the display once more: also at a reading that is past. */
export const oxygenFiguresDisagree: FlagRule = {
  code,
  title: 'Oxygen in mg/L and in percent tell of different waters',
  severity: 'question',
  addressee: 'now',
  source:
    'Benson and Krause 1980 and 1984 (computed), at every pressure at which wells are sampled; the allowance of 3 % of the figure, at least 1 % of saturation: common practice, no source',
  verified: true,
  methods: IN_A_CELL,
  yieldsTo: ['value-not-believable'],
  evaluate: ({ bundle }) =>
    chemistryFlags(bundle, { code, fields: () => ['dissolvedOxygenMgPerL', 'dissolvedOxygenPercent'] }),
  vectors: [
    {
      name: 'a digit too many',
      given: { readings: [{ ...water, dissolvedOxygenPercent: '4.1' }] },
      expect: 'raised',
      says: 'Check the two figures as written',
    },
    {
      name: 'a percentage too high',
      given: { readings: [{ ...water, dissolvedOxygenPercent: '85' }] },
      expect: 'raised',
    },
    { name: 'near the sea', given: { readings: [{ ...water, dissolvedOxygenPercent: '41.4' }] }, expect: 'silent' },
    { name: 'in the mountains', given: { readings: [{ ...water, dissolvedOxygenPercent: '50.0' }] }, expect: 'silent' },
    {
      name: 'next to nothing, where digits decide',
      given: { readings: [{ ...water, dissolvedOxygenMgPerL: '0.08', dissolvedOxygenPercent: '1.9' }] },
      expect: 'silent',
    },
    {
      name: 'no temperature to compare at',
      given: { readings: [{ dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '4.1' }] },
      expect: 'silent',
    },
  ],
};
