import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, percent, seen } from '../figures.ts';

/** Every figure was seen in the abstract. */
export const paulAndPuls2001: CriteriaSet = {
  id: 'paul-and-puls-2001',
  issuer: 'US EPA',
  document: 'Conference abstract on low-flow purging and sampling (Paul & Puls)',
  edition: '2001',
  dated: '2001',
  source: 'http://cfpub.epa.gov/si/si_public_record_report.cfm?dirEntryId=61175',
  criteria: [
    { parameter: 'ph', branches: [{ tolerance: absolute(seen('0.05')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(seen('3')) }] },
    { parameter: 'dissolved-oxygen', branches: [{ tolerance: percent(seen('10')) }] },
    { parameter: 'orp', branches: [{ tolerance: absolute(seen('5')) }] },
    { parameter: 'turbidity', branches: [{ tolerance: percent(seen('10')) }] },
  ],
  readings: seen('3'),
  minimumIntervalMin: seen('3'),
  percentArithmetic: {
    id: 'band',
    why: 'The abstract gives its limits as plus or minus: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The abstract gives its limits as plus or minus: a band around a centre',
  },
};
