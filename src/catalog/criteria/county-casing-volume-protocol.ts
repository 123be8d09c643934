import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, percent, seen } from '../figures.ts';

/** Every figure was seen. A protocol on public file, not guidance of an agency. */
export const countyCasingVolumeProtocol: CriteriaSet = {
  id: 'county-casing-volume-protocol',
  issuer: 'A protocol on public file',
  document: 'Ground water sampling protocol in a California county file, doc 600417',
  edition: 'As filed',
  dated: 'not known',
  source: 'https://lfweb.sjgov.org/EHD/0/doc/600417/Page52.aspx',
  note: 'The final two sets of readings, one set each casing volume. The temperature is limited in degrees Fahrenheit',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: { ...absolute(seen('1.0')), unit: '°F' } }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(seen('0.1')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(seen('10')) }] },
  ],
  readings: seen('2'),
  betweenReadings: { times: seen('1'), of: 'casing-volume' },
  percentArithmetic: {
    id: 'each-step-of-pair-mean',
    why: 'The final two sets are set against each other: the step over the mean of the pair, as reviewers do (Colorado state file, doc 794463, page 7)',
  },
  absoluteArithmetic: {
    id: 'total-spread',
    why: 'The final two sets are set against each other: their difference',
  },
};
