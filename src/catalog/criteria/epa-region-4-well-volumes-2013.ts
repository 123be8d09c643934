import { epaRegion4Criteria2013 } from '../criteria-region-4.ts';
import type { CriteriaSet } from '../criteria-set.ts';
import { fromMemory } from '../figures.ts';

/** The revision table was seen; every figure is from memory. With one reading a well volume, three readings are three. */
export const epaRegion4WellVolumes2013: CriteriaSet = {
  ...epaRegion4Criteria2013,
  id: 'epa-region-4-well-volumes-2013',
  note: 'Three well volumes, up to five where the water is still unstable. ORP is not used',
  beforeFirstReading: { times: fromMemory('1', 'medium'), of: 'well-volume' },
  betweenReadings: { times: fromMemory('1', 'medium'), of: 'well-volume' },
  limits: [{ of: 'well-volumes', at: fromMemory('5', 'high') }],
};
