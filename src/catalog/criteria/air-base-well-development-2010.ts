import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, percent, seen } from '../figures.ts';

/** Every figure was seen. For the development of a new well, not for the purge before a sample. */
export const airBaseWellDevelopment2010: CriteriaSet = {
  id: 'air-base-well-development-2010',
  issuer: 'A United States air base',
  document: 'Standard operating procedure B1.4, well development',
  edition: '2010',
  dated: '2010',
  source: 'SOP B1.4 of an air base, 2010, page 186 of the copy that was read',
  note: 'For well development. Below 10 NTU is the goal, up to 100 NTU is tolerated. After 4 h: rest overnight, then at most 2 h more',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: percent(seen('10')) }] },
    { parameter: 'ph', branches: [{ tolerance: { ...absolute(seen('0.2')), lessThan: true } }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(seen('10')) }] },
    { parameter: 'turbidity', branches: [{ tolerance: percent(seen('10')) }], atMost: seen('100') },
  ],
  readings: seen('4'),
  betweenReadings: { times: seen('1'), of: 'well-volume' },
  limits: [{ of: 'minutes', at: seen('240') }],
  percentArithmetic: {
    id: 'range-of-mean',
    why: 'Four consecutive readings are to lie within 10 %: the window as a whole, so largest minus smallest over its mean',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'Four consecutive readings are to lie within less than 0.2 pH: largest minus smallest',
  },
};
