import { fromMemory } from '../../figures.ts';
import type { CheckLimitSet } from '../check-limit-set.ts';
import { AT_TEMPERATURE, absoluteLimit, NOMINAL, percentLimit, rangeOfLimits } from '../limit-figures.ts';

/** Every figure is from memory. */
export const epaRegion1FieldCalibration: CheckLimitSet = {
  id: 'epa-region-1-field-calibration',
  issuer: 'US EPA Region 1',
  document: 'Calibration of Field Instruments, EQASOP-FieldCalibrat',
  edition: 'not read',
  dated: 'not read',
  source: 'US EPA Region 1, EQASOP-FieldCalibrat, check at the end of the day (from memory)',
  note: 'The document asks for pH 7 buffer in the check at the end of the day; temperature is checked once a year',
  limits: [
    {
      parameter: 'temperature',
      tolerance: rangeOfLimits(fromMemory('0.2', 'high'), fromMemory('0.5', 'high')),
      basis: NOMINAL,
    },
    absoluteLimit('ph', fromMemory('0.3', 'high'), AT_TEMPERATURE),
    {
      parameter: 'specific-conductance',
      tolerance: { rule: 'greater-of', percent: fromMemory('5', 'high'), absolute: fromMemory('10', 'high') },
      basis: NOMINAL,
    },
    absoluteLimit('dissolved-oxygen', fromMemory('0.5', 'high'), AT_TEMPERATURE),
    {
      parameter: 'zero-oxygen',
      tolerance: {
        rule: 'between',
        least: fromMemory('0', 'high'),
        most: fromMemory('0.5', 'high'),
        mostIs: 'out',
      },
      basis: NOMINAL,
    },
    absoluteLimit('orp', fromMemory('10', 'high'), AT_TEMPERATURE),
    percentLimit('turbidity', fromMemory('5', 'high')),
  ],
  startBy: 'calibration',
  span: 'unsaid',
  bracketSource: 'US EPA Region 1, EQASOP-FieldCalibrat: calibration before, check at the end of the day (from memory)',
};
