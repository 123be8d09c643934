import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, percent, seen } from '../figures.ts';

/** Every figure was seen; the copy does not show which state it is, nor how far apart the readings are. */
export const stateSolidWasteRule: CriteriaSet = {
  id: 'state-solid-waste-rule',
  issuer: 'A US state, not visible in the copy',
  document: 'Solid waste rule, ground water sampling',
  edition: 'As in the copy',
  dated: 'not known',
  source: 'https://www.hitpages.com/doc/4508015390621696/6/',
  note: 'The water level must be stable too. The rule gives no interval between readings',
  criteria: [
    { parameter: 'ph', branches: [{ tolerance: absolute(seen('0.1')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(seen('10')) }] },
    { parameter: 'dissolved-oxygen', branches: [{ tolerance: percent(seen('10')) }] },
    { parameter: 'turbidity', branches: [{ tolerance: percent(seen('10')) }] },
  ],
  readings: seen('3'),
  steadyLevel: 'required',
  percentArithmetic: {
    id: 'range-of-mean',
    why: '"10 % of the reading range" is defined nowhere. Of the range of the window, nothing that moves could pass; of the scale of the meter, nearly everything would. The strictest that fits the word: the range of the readings, largest minus smallest, at most 10 % of their mean',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: '"Within 0.1", beside a percentage of the range: largest minus smallest, the strictest reading',
  },
};
