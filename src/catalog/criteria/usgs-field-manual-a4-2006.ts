import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, fromMemory, percent } from '../figures.ts';

/**
 * Every figure is from memory. Later chapters differ (0.2 mg/L of dissolved oxygen in A6; the 2023 edition of A6.8
 * changed its conductance and pH criteria): this is the edition of 2006 and stays it. Three well volumes are the manual's
 * usual purge; low flow is one of its listed exceptions (seen: https://nemi.gov/methods/method_summary/9501).
 */
export const usgsFieldManualA4Of2006: CriteriaSet = {
  id: 'usgs-field-manual-a4-2006',
  issuer: 'US Geological Survey',
  document: 'National Field Manual for the Collection of Water-Quality Data, TWRI Book 9, Chapter A4',
  edition: 'Version 2.0',
  dated: '2006',
  source: 'USGS Techniques of Water-Resources Investigations, Book 9, Chapter A4, version 2.0, 2006',
  note: 'Turbidity has a tolerance only below 100; above it the person at the well decides',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: absolute(fromMemory('0.2', 'medium')) }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.1', 'medium')) }] },
    {
      parameter: 'specific-conductance',
      branches: [
        { below: fromMemory('100', 'medium'), atThreshold: 'in', tolerance: percent(fromMemory('5', 'medium')) },
        { tolerance: percent(fromMemory('3', 'medium')) },
      ],
    },
    { parameter: 'dissolved-oxygen', branches: [{ tolerance: absolute(fromMemory('0.3', 'medium')) }] },
    {
      parameter: 'turbidity',
      branches: [
        { below: fromMemory('100', 'medium'), atThreshold: 'out', tolerance: percent(fromMemory('10', 'medium')) },
      ],
    },
  ],
  readings: fromMemory('5', 'high'),
  minimumIntervalMin: fromMemory('3', 'medium'),
  reports: 'median',
  percentArithmetic: {
    id: 'band',
    why: 'The manual gives its limits as plus or minus and reports the median: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The manual gives its limits as plus or minus and reports the median: a band around a centre',
  },
};
