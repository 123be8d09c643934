import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, percent, seen } from '../figures.ts';

/** Every figure was seen. A protocol on public file, not guidance of an agency. */
export const coloradoMinePermitProtocol: CriteriaSet = {
  id: 'colorado-mine-permit-protocol',
  issuer: 'A protocol on public file',
  document: 'Ground water sampling protocol of a mine permit, Colorado state file, doc 641310',
  edition: 'As filed',
  dated: 'not known',
  source: 'https://dnrweblink.state.co.us/DRMSSearch/0/doc/641310/Page24.aspx',
  note: 'At least two sets of readings after about three casing volumes; unstable after five: note it and sample',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: absolute(seen('1')) }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(seen('0.1')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(seen('10')) }] },
  ],
  readings: seen('2'),
  beforeFirstReading: { times: seen('3'), of: 'casing-volume' },
  limits: [{ of: 'well-volumes', at: seen('5') }],
  percentArithmetic: {
    id: 'each-step-of-pair-mean',
    why: 'Two sets are set against each other; a reviewer of such a file took the step over the mean of the pair (Colorado state file, doc 794463, page 7)',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'Two sets are set against each other: their difference, as the same reviewer took it',
  },
};
