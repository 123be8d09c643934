import type { CriteriaSet } from '../criteria-set.ts';
import { absolute, atMost, fromMemory, percent } from '../figures.ts';

/** The history of its revisions was read in a newsletter (May 2020); every figure is from memory. */
export const ohioChapter10: CriteriaSet = {
  id: 'ohio-chapter-10-2012',
  issuer: 'Ohio EPA',
  document: 'Technical Guidance Manual for Ground Water Investigations, Chapter 10, Ground Water Sampling',
  edition: 'Revision 2',
  dated: '2012-05',
  source: 'Ohio EPA, Technical Guidance Manual, chapter 10, May 2012 (from memory)',
  note: 'Recalled without knowing in which of the revisions of 1995, 2006 and 2012 each figure stands. 10 NTU is a goal',
  criteria: [
    { parameter: 'temperature', branches: [{ tolerance: absolute(fromMemory('0.5', 'medium')) }] },
    { parameter: 'ph', branches: [{ tolerance: absolute(fromMemory('0.2', 'medium')) }] },
    { parameter: 'specific-conductance', branches: [{ tolerance: percent(fromMemory('3', 'medium')) }] },
    {
      parameter: 'dissolved-oxygen',
      branches: [
        {
          tolerance: {
            rule: 'greater-of',
            of: [percent(fromMemory('10', 'medium')), absolute(fromMemory('0.2', 'medium'))],
          },
        },
      ],
    },
    { parameter: 'orp', branches: [{ tolerance: absolute(fromMemory('20', 'medium')) }] },
    {
      parameter: 'turbidity',
      branches: [
        {
          tolerance: {
            rule: 'either',
            of: [atMost(fromMemory('10', 'medium')), percent(fromMemory('10', 'medium'))],
          },
        },
      ],
    },
  ],
  readings: fromMemory('3', 'medium'),
  minimumIntervalMin: fromMemory('3', 'medium'),
  percentArithmetic: {
    id: 'band',
    why: 'The manual gives its limits as plus or minus: a band around a centre',
  },
  absoluteArithmetic: {
    id: 'band',
    why: 'The manual gives its limits as plus or minus: a band around a centre',
  },
};
