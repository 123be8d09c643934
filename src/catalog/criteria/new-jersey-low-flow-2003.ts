import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, fromMemory, percent, stableBelow } from '../figures.ts';

/**
 * Its first two parts were seen, every figure is from memory. It builds on Region 1 (30 Jul 1996) and Region 2 (16 Mar
 * 1998) and overrides them where they differ. Its limit of several hours was not recovered and is left out.
 */
export const newJerseyLowFlow2003: CriteriaSet = {
  id: 'new-jersey-low-flow-2003',
  issuer: 'New Jersey Department of Environmental Protection',
  document: 'Low-Flow Purging and Sampling Guidance',
  edition: 'December 2003',
  dated: '2003-12',
  source: 'https://nj.gov/dep/srp/guidance/lowflow',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: percent(fromMemory('3', 'medium')) }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.1', 'medium')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('3', 'medium')) }] },
    { parameter: 'dissolved-oxygen', branches: [{ tolerance: percent(fromMemory('10', 'medium')) }] },
    { parameter: 'orp', branches: [{ tolerance: absolute(fromMemory('10', 'medium')) }] },
    {
      parameter: 'turbidity',
      branches: [stableBelow(fromMemory('1', 'medium')), { tolerance: percent(fromMemory('10', 'medium')) }],
    },
  ],
  readings: fromMemory('3', 'medium'),
  minimumIntervalMin: fromMemory('5', 'medium'),
  percentArithmetic: {
    id: 'range-of-mean',
    why: 'It builds on the procedure of Region 1, which asks for three consecutive readings within 10 %: largest minus smallest over the mean',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'It builds on the procedure of Region 1, which asks for three consecutive readings within their limits: largest minus smallest',
  },
};
