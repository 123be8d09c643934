import { fromMemory } from '../../figures.ts';
import type { CheckLimitSet } from '../check-limit-set.ts';
import { AT_TEMPERATURE, absoluteLimit, NOMINAL, percentLimit, rangeOfLimits } from '../limit-figures.ts';

/** Every figure is from memory, with low confidence. */
export const epaRegion4FieldMeasurement: CheckLimitSet = {
  id: 'epa-region-4-field-measurement',
  issuer: 'US EPA Region 4',
  document:
    'Operating procedures for field measurement of pH, conductivity, dissolved oxygen, ORP, turbidity and temperature',
  edition: 'not read',
  dated: 'not read',
  source: 'US EPA Region 4, operating procedures for field measurement (from memory, low confidence)',
  note: 'The procedure for turbidity is LSASDPROC-103-R5 of 3 November 2021; its figures were not read',
  limits: [
    absoluteLimit('temperature', fromMemory('0.5', 'low'), NOMINAL),
    {
      parameter: 'ph',
      tolerance: rangeOfLimits(fromMemory('0.1', 'low'), fromMemory('0.2', 'low')),
      basis: AT_TEMPERATURE,
    },
    percentLimit('specific-conductance', fromMemory('10', 'low')),
    {
      parameter: 'dissolved-oxygen',
      tolerance: rangeOfLimits(fromMemory('0.2', 'low'), fromMemory('0.3', 'low')),
      basis: AT_TEMPERATURE,
    },
    absoluteLimit('orp', fromMemory('10', 'low'), AT_TEMPERATURE),
    percentLimit('turbidity', fromMemory('10', 'low')),
  ],
  startBy: 'calibration',
  span: 'unsaid',
  bracketSource: 'US EPA Region 4: calibration before, check at the end of the day (from memory, low confidence)',
};
