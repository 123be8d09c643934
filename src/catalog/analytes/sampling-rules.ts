import { PUBLICATIONS, recalled } from './publications.ts';
import { figure, type WrittenRule } from './rule-figure.ts';

const {
  advisoryOnFiltering,
  commonPractice,
  epa1992Filling,
  epa1992Order,
  fieldManual561,
  fieldManualRates,
  region1Page8,
} = PUBLICATIONS;
const region1Page6 = {
  source: 'US EPA Region 1, SOP GW 0001, rev. 2, p. 6, in a mine permit file of Colorado, doc 504322, page 22',
  dated: '1996-07-30',
  verified: true,
} as const;
const stateRule = {
  source: 'a state solid-waste rule that quotes US EPA, read in a copy',
  dated: 'not told',
  verified: true,
} as const;

/** How bottles are filled, filtered and in which order, besides the lists of orders themselves. */
export const SAMPLING_RULES = {
  cleanWellsFirst: {
    ...epa1992Order,
    id: 'clean-wells-first',
    wording: 'Wells are sampled from the least to the most contaminated.',
  },
  orderInPlan: {
    ...stateRule,
    id: 'order-in-plan',
    wording:
      'Where gear is not dedicated, the order of wells is in the plan, and changes need approval; the order within a well stays the same over time.',
  },
  slowForVolatiles: {
    ...epa1992Filling,
    id: 'slow-for-volatiles',
    wording:
      'Volatiles below 0.1 L/min; the line is slowed before, so that the vial does not take the water of the fast time.',
    figures: [figure('fill-rate-below', '100', 'mL/min')],
  },
  notAbovePurgeRate: {
    ...epa1992Filling,
    id: 'not-above-purge-rate',
    wording: 'Bottles are never filled faster than the well was purged; the flow is continuous.',
  },
  ratesOfFieldManual: {
    ...fieldManualRates,
    id: 'rates-of-field-manual',
    wording:
      'Bottles of 250 mL and more at 500 mL/min at most, 40 mL vials at 150; smooth, and not interrupted after the purge.',
    figures: [
      figure('bottle-rate', '500', 'mL/min'),
      figure('vial-rate', '150', 'mL/min'),
      figure('from-volume', '250', 'mL'),
    ],
  },
  soonAfterPurge: {
    ...epa1992Filling,
    id: 'soon-after-purge',
    wording:
      'Water that stands in the casing for more than about 2 hours has exchanged gas: sampled soon after the purge.',
    figures: [figure('after-purge-within', '2', 'h')],
  },
  soonAfterRecovery: {
    ...region1Page6,
    id: 'soon-after-recovery',
    wording:
      'A well that was pumped dry is sampled as soon as it has recovered enough; its parameters may be unstable, which is recorded.',
  },
  noBubble: {
    ...fieldManual561,
    id: 'no-bubble',
    wording:
      'A vial is filled from the bottom to a raised surface, capped, turned over and tapped: any bubble, and it is discarded for a new one. No tape on vials.',
  },
  bubbleWrittenDown: {
    source: 'a sampling plan, county file, doc 561412, page 45',
    dated: 'not told',
    verified: true,
    id: 'bubble-written-down',
    wording: 'Where air in a vial cannot be avoided, that is written down.',
  },
  notRinsed: { ...fieldManual561, id: 'not-rinsed', wording: 'Bottles for organics are not rinsed in the field.' },
  preChargedNotRinsed: {
    ...fieldManual561,
    id: 'pre-charged-not-rinsed',
    wording: 'Bottles that come with their preservative are filled without overflow and not rinsed.',
  },
  newGloves: { ...fieldManual561, id: 'new-gloves', wording: 'Gloves are changed between steps and kinds of sample.' },
  cellOff: {
    ...recalled('US EPA Region 1, low-stress procedures'),
    id: 'cell-off',
    wording: 'The flow cell is taken off or bypassed before bottles are filled.',
  },
  pumpStays: { ...region1Page8, id: 'pump-stays', wording: 'The pump stays where it is between purging and sampling.' },
  filterFlushed: {
    ...region1Page8,
    id: 'filter-flushed',
    wording: '0.45 micrometres in common use; 25 to 50 mL of the water of the well go through the filter first.',
    figures: [
      figure('pore', '0.45', 'micrometre'),
      figure('flush-least', '25', 'mL'),
      figure('flush-most', '50', 'mL'),
    ],
  },
  filteredIsNotTotal: {
    ...region1Page8,
    id: 'filtered-is-not-total',
    wording: 'Filtered water does not stand for unfiltered where all that moves is asked for.',
  },
  neverFiltered: {
    ...advisoryOnFiltering,
    id: 'never-filtered',
    wording:
      'Volatiles, total organic carbon and organic halides are never filtered; other organics only with a reason.',
  },
  landfillsUnfiltered: {
    ...recalled('40 CFR 258.53(b)'),
    id: 'landfills-unfiltered',
    wording: 'At municipal landfills no sample of groundwater is filtered in the field.',
  },
  coalAshUnfiltered: {
    ...recalled('40 CFR 257.93(i)'),
    id: 'coal-ash-unfiltered',
    wording: 'At units for coal ash, metals are measured as total recoverable: not filtered in the field.',
  },
  levelsBeforePurge: {
    source: '40 CFR 257.93(a) to (d), read in a copy',
    dated: 'not told',
    verified: true,
    id: 'levels-before-purge',
    wording:
      'Levels are measured immediately before purging, each time a well is sampled, within a time short enough that they do not change.',
  },
  filterByAgreement: {
    source: 'Hawaii Department of Health, Technical Guidance Manual, 6.6',
    dated: 'not told',
    verified: true,
    id: 'filter-by-agreement',
    wording:
      'One state: filtered only where a fine matrix leaves no other way, for organics by prior agreement, and as the plan says.',
  },
  nothingDropped: {
    ...epa1992Filling,
    id: 'nothing-dropped',
    wording: 'Nothing is dropped into the well; clean gear does not touch the ground.',
  },
  purgedVolume: {
    ...region1Page6,
    id: 'purged-volume',
    wording:
      'More is purged than drawdown and tubing contain; the depth of the intake and the flow of last time are repeated.',
  },
  pfasPlace: {
    ...recalled('state guides on PFAS'),
    id: 'pfas-place',
    wording:
      'PFAS are commonly filled before all else; some plans fill them right after volatiles. The plan says which.',
  },
  whenShort: {
    ...commonPractice,
    id: 'when-short',
    wording:
      'Where the water does not do for all, each group in its priority gets the least that can be analysed, then more; what is dropped is recorded with who agreed.',
  },
} as const satisfies Readonly<Record<string, WrittenRule>>;
