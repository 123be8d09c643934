import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, fromMemory, percent } from '../figures.ts';

/** Only the opening page was seen; every figure is from memory. */
export const pulsAndBarcelona1996: CriteriaSet = {
  id: 'puls-and-barcelona-1996',
  issuer: 'US EPA',
  document: 'Low-Flow (Minimal Drawdown) Ground-Water Sampling Procedures, EPA/540/S-95/504 (Puls & Barcelona)',
  edition: '1996',
  dated: '1996-04',
  source: 'https://nepis.epa.gov/Exe/ZyPURL.cgi?Dockey=2000G23N.txt',
  criteria: [
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.1', 'high')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('3', 'high')) }] },
    { parameter: 'dissolved-oxygen', branches: [{ tolerance: percent(fromMemory('10', 'high')) }] },
    { parameter: 'orp', branches: [{ tolerance: absolute(fromMemory('10', 'high')) }] },
    { parameter: 'turbidity', branches: [{ tolerance: percent(fromMemory('10', 'high')) }] },
  ],
  readings: fromMemory('3', 'high'),
  minimumIntervalMin: fromMemory('3', 'high'),
  drawdownTarget: { limit: fromMemory('0.1', 'high'), unit: 'm' },
  percentArithmetic: {
    id: 'band',
    why: 'The document asks for successive readings within plus or minus 10 %: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The document asks for successive readings within plus or minus 0.1 pH: a band around a centre',
  },
};
