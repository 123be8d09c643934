import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, atMost, fromMemory, percent } from '../figures.ts';

/**
 * The set of procedures and its date were seen in a copy of rule 62-160.800; every figure is from memory. The two upper
 * limits are no criteria of stability; where one is not met, its alternative is.
 */
export const floridaFs2200Of2017: CriteriaSet = {
  id: 'florida-fs-2200-2017',
  issuer: 'Florida Department of Environmental Protection',
  document: 'FS 2200 Groundwater Sampling, DEP-SOP-001/01',
  edition: 'January 2017',
  dated: '2017-01',
  source: 'Florida Administrative Code, rule 62-160.800 (the set of procedures and its date)',
  note: 'Readings are 2 to 3 min apart at the least, taken here as 2. Where the intake hangs above or the water stands in the screen: one well volume first, then a quarter between readings',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: absolute(fromMemory('0.2', 'high')) }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.2', 'high')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('5.0', 'high')) }] },
    {
      parameter: 'dissolved-oxygen',
      branches: [
        {
          tolerance: {
            rule: 'greater-of',
            of: [percent(fromMemory('10', 'high')), absolute(fromMemory('0.2', 'high'))],
          },
        },
      ],
      orInPercentSaturation: atMost(fromMemory('20', 'high')),
    },
    {
      parameter: 'turbidity',
      branches: [
        {
          tolerance: {
            rule: 'either',
            of: [
              atMost(fromMemory('20', 'high')),
              percent(fromMemory('10', 'high')),
              absolute(fromMemory('5', 'high')),
            ],
          },
        },
      ],
    },
  ],
  readings: fromMemory('3', 'high'),
  minimumIntervalMin: fromMemory('2', 'medium'),
  beforeFirstReading: {
    insideSubmergedScreen: { times: fromMemory('1', 'medium'), of: 'equipment-volume' },
    elsewhere: { times: fromMemory('1', 'medium'), of: 'well-volume' },
  },
  betweenReadings: {
    insideSubmergedScreen: null,
    elsewhere: { times: fromMemory('0.25', 'medium'), of: 'well-volume' },
  },
  percentArithmetic: {
    id: 'earlier-of-last',
    why: 'The procedure says "of reading": each earlier reading is set against the last, the stricter of the two ways to read that',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The procedure gives its limits as plus or minus: a band around a centre',
  },
};
