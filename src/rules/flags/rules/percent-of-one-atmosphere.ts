import { chemistryFlags, IN_A_CELL } from '../facts/chemistry-flags.ts';
import type { FlagRule } from '../flag-rule.ts';

const code = 'percent-of-one-atmosphere';
const reading = { temperatureC: '20.0', dissolvedOxygenMgPerL: '3.76', dissolvedOxygenPercent: '41.4' };
const high = { elevationFt: '5000', datum: 'NAVD 88' };

export const percentOfOneAtmosphere: FlagRule = {
  code,
  title: 'The percentage of oxygen is of saturation under 1 atm, not of saturation at the well',
  severity: 'note',
  addressee: 'office',
  source:
    'Benson and Krause 1980 and 1984 (computed), with the standard atmosphere of ISO 2533:1975 at the elevation of the measuring point',
  verified: true,
  methods: IN_A_CELL,
  yieldsTo: ['value-not-believable', 'oxygen-figures-disagree'],
  evaluate: ({ bundle }) =>
    chemistryFlags(bundle, { code, fields: () => ['dissolvedOxygenMgPerL', 'dissolvedOxygenPercent'] }),
  vectors: [
    {
      name: 'a mile above the sea',
      given: { measuringPoints: [high], readings: [reading] },
      expect: 'raised',
      says: 'of saturation here it would be 49.9 %',
    },
    {
      name: 'the percentage is of saturation there',
      given: { measuringPoints: [high], readings: [{ ...reading, dissolvedOxygenPercent: '50.0' }] },
      expect: 'silent',
    },
    { name: 'nobody knows how high the well lies', given: { readings: [reading] }, expect: 'silent' },
    {
      name: 'an elevation above a benchmark of the site',
      given: { measuringPoints: [{ ...high, datum: 'Site datum' }], readings: [reading] },
      expect: 'silent',
    },
    {
      name: 'near the sea the two are one',
      given: { measuringPoints: [{ ...high, elevationFt: '30' }], readings: [reading] },
      expect: 'silent',
    },
  ],
};
