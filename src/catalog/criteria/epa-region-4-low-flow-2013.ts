import { epaRegion4Criteria2013 } from '../criteria-region-4.ts';
import type { CriteriaSet } from '../criteria-set.ts';
import { fromMemory } from '../figures.ts';

/** The revision table was seen; every figure is from memory. For a pump or tubing whose intake is inside the screen. */
export const epaRegion4LowFlow2013: CriteriaSet = {
  ...epaRegion4Criteria2013,
  id: 'epa-region-4-low-flow-2013',
  note: 'One volume of pump and tubing is drawn first. The document asks for readings at a fixed interval and gives none that was recovered. ORP is not used',
  beforeFirstReading: { times: fromMemory('1', 'medium'), of: 'pump-and-tubing-volume' },
};
