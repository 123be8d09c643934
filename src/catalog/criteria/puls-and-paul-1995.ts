import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, percent, seen } from '../figures.ts';

/** Every figure was read in a quotation in a regulator's file, not in the article itself. */
export const pulsAndPaul1995: CriteriaSet = {
  id: 'puls-and-paul-1995',
  issuer: 'Puls & Paul',
  document: 'Article on low-flow sampling, as quoted in a California county file, doc 276400',
  edition: '1995, as quoted',
  dated: '1995',
  source: 'https://lfweb.sjgov.org/EHD/0/doc/276400/Page39.aspx',
  criteria: [
    { parameter: 'ph', branches: [{ tolerance: absolute(seen('0.05')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(seen('3')) }] },
  ],
  readings: seen('3'),
  minimumIntervalMin: seen('3'),
  percentArithmetic: {
    id: 'band',
    why: 'The quotation gives its limits as plus or minus: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The quotation gives its limits as plus or minus: a band around a centre',
  },
};
