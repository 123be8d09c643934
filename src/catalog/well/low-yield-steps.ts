/** What documents say to do, and not to do, at a well that gives little water. */
export interface LowYieldStep {
  readonly id: string;
  readonly kind: 'do' | 'do-not';
  /** At a well that was pumped dry, at one whose drawdown keeps growing, or at both. */
  readonly at: 'purged-dry' | 'drawdown-grows' | 'both';
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

const REGION_1 = 'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13';

export const LOW_YIELD_STEPS: readonly LowYieldStep[] = [
  {
    id: 'sample-as-soon-as-enough',
    kind: 'do',
    at: 'purged-dry',
    wording: 'Sample as soon as enough water has come back; stable parameters are not required.',
    source: REGION_1,
    verified: true,
  },
  {
    id: 'leave-the-intake',
    kind: 'do-not',
    at: 'purged-dry',
    wording: 'Do not move the intake.',
    source: REGION_1,
    verified: true,
  },
  {
    id: 'no-cascade',
    kind: 'do-not',
    at: 'both',
    wording:
      'Never let water that comes back cascade down the screen: up to 70 % of volatiles were lost that way in laboratory tests.',
    source: 'agency guidance, county file, doc 612081, page 18',
    verified: true,
  },
  {
    id: 'record-as-dry',
    kind: 'do',
    at: 'purged-dry',
    wording: 'Where not enough has come back within 24 h, record the well as dry.',
    source: 'county files, doc 600417, page 52, and doc 453809, page 12',
    verified: true,
  },
  {
    id: 'no-level-within-24-hours',
    kind: 'do-not',
    at: 'both',
    wording: 'Take no level of this well for a round of levels within 24 h after purging.',
    source: 'EPA, RCRA ground-water monitoring, Nov 1992, p. 7-4, read in a copy',
    verified: true,
  },
  {
    id: 'lower-the-rate',
    kind: 'do',
    at: 'drawdown-grows',
    wording: 'Lower the rate within the first 15 min; some wells of low yield took about 10 mL/min.',
    source: `${REGION_1}; McCarthy and Shevenell 1998, Ground Water, doi 10.1111/j.1745-6584.1998.tb01090.x, abstract`,
    verified: true,
  },
  {
    id: 'not-by-low-flow',
    kind: 'do-not',
    at: 'drawdown-grows',
    wording: 'Do not call it low-flow sampling while drawdown keeps growing: the method is not meant for such wells.',
    source: 'ASTM D6771-21, 5.2',
    verified: true,
  },
  {
    id: 'stay-above-the-intake',
    kind: 'do-not',
    at: 'drawdown-grows',
    wording: 'Never let the level reach the intake.',
    source: REGION_1,
    verified: true,
  },
  {
    id: 'old-casing-water',
    kind: 'do-not',
    at: 'drawdown-grows',
    wording:
      'Do not sample water that stood in the casing for more than about 2 h as if it were fresh: it is held to be altered.',
    source: 'EPA, RCRA ground-water monitoring, draft technical guidance, Nov 1992, ch. 7, read in a copy',
    verified: true,
  },
];
