import { chemistryFlags, IN_A_CELL, stands } from '../facts/chemistry-flags.ts';
import type { FlagRule } from '../flag-rule.ts';

const code = 'oxygen-above-saturation';
const counts = stands(
  ({ dissolvedOxygenMgPerL, dissolvedOxygenPercent }) =>
    dissolvedOxygenMgPerL !== null || dissolvedOxygenPercent !== null,
);

const water = { temperatureC: '15.0', specificConductanceUsPerCm: '500' };
const over = { ...water, dissolvedOxygenMgPerL: '12.40' };

export const oxygenAboveSaturation: FlagRule = {
  code,
  title: 'More oxygen than air can give the water, and it stays',
  severity: 'question',
  addressee: 'now',
  source:
    'Saturation: Benson and Krause 1980 and 1984 (computed); an allowance of 10 % and three readings in a row: common practice, no source',
  verified: true,
  methods: IN_A_CELL,
  yieldsTo: ['value-not-believable', 'oxygen-figures-disagree'],
  evaluate: ({ bundle }) =>
    chemistryFlags(bundle, {
      code,
      fields: () => ['dissolvedOxygenMgPerL', 'dissolvedOxygenPercent', 'temperatureC', 'temperatureF'],
      counts,
    }),
  vectors: [
    {
      name: 'air in the line, reading after reading',
      given: { readings: [over, over, { ...over, dissolvedOxygenMgPerL: '12.60' }] },
      expect: 'raised',
      says: 'air in the line or in the cell',
    },
    {
      name: 'the percentage of the meter alone',
      given: { readings: Array(3).fill({ dissolvedOxygenPercent: '131' }) },
      expect: 'raised',
      says: '131 % as the meter shows it',
    },
    {
      name: 'a bubble that passed',
      given: { readings: [over, over, over, water, { ...over, dissolvedOxygenMgPerL: '8.1' }] },
      expect: 'silent',
    },
    { name: 'two readings are not yet a state', given: { readings: [over, over] }, expect: 'silent' },
    {
      name: 'water at saturation',
      given: { readings: Array(4).fill({ ...water, dissolvedOxygenMgPerL: '10.05' }) },
      expect: 'silent',
    },
    {
      name: 'within a tenth above, at the highest pressure of the sea',
      given: { readings: Array(4).fill({ ...water, dissolvedOxygenMgPerL: '11.40' }) },
      expect: 'silent',
    },
    {
      name: 'the end of the range of the meter',
      given: { readings: Array(3).fill({ ...over, overRange: ['dissolvedOxygenMgPerL'] }) },
      expect: 'silent',
    },
    {
      name: 'a well that flows in the open',
      given: { visit: { method: 'flowing' }, readings: [over, over, over] },
      expect: 'silent',
    },
  ],
};
