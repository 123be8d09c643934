import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, fromMemory, percent, seen, stableBelow } from '../figures.ts';

const PAGE_6 = 'p. 6 of 13, in a Colorado state file, doc 504322, page 22';

/** Superseded by revisions 3 and 4 and still cited by states. Pages 1, 5, 6 and 8 of 13 were seen. */
export const epaRegion1LowStressRev2: CriteriaSet = {
  id: 'epa-region-1-low-stress-rev-2',
  issuer: 'US EPA Region 1',
  document:
    'Low Stress (Low Flow) Purging and Sampling Procedure for the Collection of Ground Water Samples from Monitoring Wells, SOP GW 0001',
  edition: 'Revision 2',
  dated: '1996-07-30',
  source: 'Colorado state file, doc 504322, pages 17, 22 and 24',
  superseded: 'by revision 4 of 2017',
  note: 'Turbidity counts as low below 1 NTU here, below 5 NTU in revision 4',
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
  minimumIntervalMin: fromMemory('3', 'medium'),
  drawdownTarget: { limit: seen('0.3', PAGE_6), unit: 'ft' },
  minimumPurge: 'drawdown-and-tubing',
  percentArithmetic: {
    id: 'range-of-mean',
    why: 'Worded as revision 4: three consecutive readings within 10 %, so largest minus smallest over the mean of the window',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'Worded as revision 4: three consecutive readings within their limits, so largest minus smallest',
  },
};
