import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, fromMemory, percent } from '../figures.ts';

/**
 * Every figure is from memory. Its extent of use was seen: only for wells that can be pumped at a constant low rate
 * without continuously increasing drawdown. Turbidity is recorded there and is no criterion.
 */
export const astmD6771Of2021: CriteriaSet = {
  id: 'astm-d6771-21',
  issuer: 'ASTM International',
  document: 'Standard Practice for Low-Flow Purging and Sampling Used for Groundwater Monitoring, D6771',
  edition: 'D6771-21',
  dated: '2021',
  source: 'https://standards.iteh.ai/catalog/standards/astm/a76ef3d7-2919-44f7-b8b0-bb80bce8c297/astm-d6771-21',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: absolute(fromMemory('0.2', 'medium')) }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.2', 'medium')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('3', 'medium')) }] },
    {
      parameter: 'dissolved-oxygen',
      branches: [
        {
          tolerance: {
            rule: 'greater-of',
            of: [percent(fromMemory('10', 'medium')), absolute(fromMemory('0.2', 'medium'))],
          },
        },
      ],
    },
    { parameter: 'orp', branches: [{ tolerance: absolute(fromMemory('20', 'medium')) }] },
  ],
  readings: fromMemory('3', 'medium'),
  minimumIntervalMin: fromMemory('3', 'medium'),
  percentArithmetic: {
    id: 'band',
    why: 'The standard gives its limits as plus or minus: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The standard gives its limits as plus or minus: a band around a centre',
  },
};
