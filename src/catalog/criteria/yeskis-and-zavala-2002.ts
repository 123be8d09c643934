import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, fromMemory, percent, stableBelow } from '../figures.ts';

/** Every figure is from memory. Temperature is listed there as a poor indicator and is no criterion. */
export const yeskisAndZavala2002: CriteriaSet = {
  id: 'yeskis-and-zavala-2002',
  issuer: 'US EPA',
  document:
    'Ground-Water Sampling Guidelines for Superfund and RCRA Project Managers, EPA/542/S-02/001 (Yeskis & Zavala)',
  edition: '2002',
  dated: '2002-05',
  source: 'EPA/542/S-02/001, 2002',
  criteria: [
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.1', 'medium')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('3', 'medium')) }] },
    { parameter: 'dissolved-oxygen', branches: [{ tolerance: absolute(fromMemory('0.3', 'high')) }] },
    { parameter: 'orp', branches: [{ tolerance: absolute(fromMemory('10', 'medium')) }] },
    {
      parameter: 'turbidity',
      branches: [stableBelow(fromMemory('10', 'high')), { tolerance: percent(fromMemory('10', 'high')) }],
    },
  ],
  readings: fromMemory('3', 'medium'),
  minimumIntervalMin: fromMemory('3', 'medium'),
  percentArithmetic: {
    id: 'band',
    why: 'The guideline gives its limits as plus or minus: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The guideline gives its limits as plus or minus: a band around a centre',
  },
};
