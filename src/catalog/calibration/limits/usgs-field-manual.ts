import { fromMemory } from '../../figures.ts';
import type { CheckLimitSet } from '../check-limit-set.ts';
import { AT_TEMPERATURE, absoluteLimit, NOMINAL } from '../limit-figures.ts';

/** Every figure is from memory. */
export const usgsFieldManual: CheckLimitSet = {
  id: 'usgs-field-manual',
  issuer: 'US Geological Survey',
  document: 'National Field Manual for the Collection of Water-Quality Data, chapter A6',
  edition: 'not read; limits as recalled of the chapters before 2019',
  dated: 'not read',
  source: 'US Geological Survey, National Field Manual, chapter A6 (from memory)',
  note: 'Thermistors are checked at five points once a year',
  limits: [
    absoluteLimit('temperature', fromMemory('0.2', 'medium'), NOMINAL),
    {
      parameter: 'ph',
      tolerance: {
        rule: 'absolute',
        within: fromMemory('0.1', 'medium'),
        stricter: {
          figure: fromMemory('0.05', 'medium'),
          when: 'the water has a low ionic strength',
          usual: 'wider',
        },
      },
      basis: AT_TEMPERATURE,
    },
    {
      parameter: 'specific-conductance',
      to: fromMemory('100', 'medium'),
      tolerance: { rule: 'percent', within: fromMemory('5', 'medium') },
      basis: NOMINAL,
    },
    {
      parameter: 'specific-conductance',
      above: fromMemory('100', 'medium'),
      tolerance: { rule: 'percent', within: fromMemory('3', 'medium') },
      basis: NOMINAL,
    },
    absoluteLimit('dissolved-oxygen', fromMemory('0.2', 'medium'), AT_TEMPERATURE),
    {
      parameter: 'zero-oxygen',
      tolerance: { rule: 'between', most: fromMemory('0.2', 'medium'), mostIs: 'in' },
      basis: NOMINAL,
    },
    absoluteLimit('orp', fromMemory('5', 'medium'), AT_TEMPERATURE),
    {
      parameter: 'turbidity',
      tolerance: { rule: 'greater-of', percent: fromMemory('5', 'medium'), absolute: fromMemory('0.5', 'medium') },
      basis: NOMINAL,
    },
  ],
  startBy: 'calibration',
  span: 'unsaid',
  bracketSource:
    'US Geological Survey, National Field Manual, chapter A6: calibration before, check after (from memory)',
};
