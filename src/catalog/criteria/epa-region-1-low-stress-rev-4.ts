import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, fromMemory, percent, stableBelow } from '../figures.ts';

/**
 * Title, revision, date and address were seen in a bibliography; every figure is from memory. The drawdown target of
 * 0.3 ft was seen in revision 2 (p. 6 of 13), not in this one.
 */
export const epaRegion1LowStressRev4: CriteriaSet = {
  id: 'epa-region-1-low-stress-rev-4',
  issuer: 'US EPA Region 1',
  document:
    'Low Stress (Low Flow) Purging and Sampling Procedure for the Collection of Groundwater Samples from Monitoring Wells, EQASOP-GW4',
  edition: 'Revision 4',
  dated: '2017-09-19',
  source: 'https://www.epa.gov/sites/default/files/2017-10/documents/eqasop-gw4.pdf',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: percent(fromMemory('3', 'high')) }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.1', 'high')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('3', 'high')) }] },
    {
      parameter: 'dissolved-oxygen',
      branches: [stableBelow(fromMemory('0.5', 'high')), { tolerance: percent(fromMemory('10', 'high')) }],
    },
    { parameter: 'orp', branches: [{ tolerance: absolute(fromMemory('10', 'high')) }] },
    {
      parameter: 'turbidity',
      branches: [stableBelow(fromMemory('5', 'high')), { tolerance: percent(fromMemory('10', 'high')) }],
    },
  ],
  readings: fromMemory('3', 'high'),
  minimumIntervalMin: fromMemory('5', 'high'),
  turnoverCellVolumes: fromMemory('1', 'high'),
  drawdownTarget: { limit: fromMemory('0.3', 'high'), unit: 'ft' },
  minimumPurge: 'drawdown-and-tubing',
  limits: [{ of: 'minutes', at: fromMemory('120', 'high') }],
  percentArithmetic: {
    id: 'range-of-mean',
    why: 'The set asks that three consecutive readings lie within 10 %: the window as a whole, so largest minus smallest over its mean',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'One sentence asks all parameters to lie within their limits for three consecutive readings, so largest minus smallest, as for the percentages',
  },
};
