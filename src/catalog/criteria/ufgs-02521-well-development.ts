import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, percent, seen } from '../figures.ts';

/** Every figure was seen. For the development of a new well, not for the purge before a sample. */
export const ufgsWellDevelopment: CriteriaSet = {
  id: 'ufgs-02521-well-development',
  issuer: 'US Department of Defense',
  document: 'Unified Facilities Guide Specification 02521, development of wells',
  edition: '02521',
  dated: 'not known',
  source: 'https://ufgscriteriadocreport.tpub.com/02521/025210030.htm',
  note: 'For well development. At most 5 NTU is an option of the specification: a plan gives it as the upper limit of turbidity',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: absolute(seen('0.5')) }] },
    { parameter: 'ph', branches: [{ tolerance: { ...absolute(seen('0.2')), lessThan: true } }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(seen('3')) }] },
    { parameter: 'dissolved-oxygen', branches: [{ tolerance: percent(seen('10')) }] },
    { parameter: 'orp', branches: [{ tolerance: { ...absolute(seen('10')), lessThan: true } }] },
    { parameter: 'turbidity', branches: [{ tolerance: percent(seen('10')) }] },
  ],
  readings: seen('3'),
  betweenReadings: { times: seen('1'), of: 'casing-volume' },
  percentArithmetic: {
    id: 'band',
    why: 'The specification gives its percentages as plus or minus: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'pH and ORP are to change by less than their limits over three readings: largest minus smallest, for the temperature too',
  },
};
