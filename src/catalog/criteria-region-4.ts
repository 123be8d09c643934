import type { CriteriaSet } from './criteria-set.ts';
import { absolute, atMost, commonPractice, fromMemory, percent } from './figures.ts';

/** What the two ways of purging of one document share. */
export const epaRegion4Criteria2013: Omit<CriteriaSet, 'id'> = {
  issuer: 'US EPA Region 4',
  document: 'Groundwater Sampling, SESDPROC-301',
  edition: 'Revision 3',
  dated: '2013-03-06',
  source: 'https://de.scribd.com/document/334011810/US-EPA-SESD-PROC-301-R3-Groundwater-Sampling',
  superseded: 'by LSASDPROC-301, whose limits were not read',
  criteria: [
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.1', 'medium')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('5', 'medium')) }] },
    {
      parameter: 'dissolved-oxygen',
      optional: true,
      branches: [{ tolerance: absolute(fromMemory('0.2', 'medium')) }],
      orInPercentSaturation: absolute(fromMemory('10', 'medium')),
    },
    {
      parameter: 'turbidity',
      branches: [
        {
          tolerance: {
            rule: 'either',
            of: [
              atMost(fromMemory('10', 'medium')),
              percent(commonPractice('10', '"Stable" without a figure in the document; 10 % as in the other sets')),
            ],
          },
        },
      ],
    },
  ],
  readings: fromMemory('3', 'medium'),
  percentArithmetic: {
    id: 'range-of-mean',
    why: 'The document asks that the conductance varies no more than about 5 %: largest minus smallest over the mean',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'The document asks that pH remains constant within 0.1 unit, as it does for the percentage: largest minus smallest',
  },
};
