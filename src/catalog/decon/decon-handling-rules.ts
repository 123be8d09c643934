export const DECON_HANDLING_TOPICS = [
  'label',
  'wrap',
  'deviation',
  'waste',
  'water',
  'weather',
  'dedicated',
  'evidence',
] as const;

/** What documents say about cleaning besides its steps. */
export interface DeconHandlingRule {
  readonly id: string;
  readonly topic: (typeof DECON_HANDLING_TOPICS)[number];
  readonly wording: string;
  readonly source: string;
  readonly verified: boolean;
}

const EPA_1992 = 'US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-18, read in a copy';
const CALIFORNIA = 'California EPA, Ground Water Sampling, 2.3.6, county file, doc 612081, page 26';
const SOP_003 = 'US Army depot procedure SOP-003, rev. 1, Apr 2019, 3.2, county file, doc 798934, page 69';
const CRREL_1995 = 'US Army CRREL, Report 95-14, review of the literature';

export const DECON_HANDLING_RULES = {
  label: {
    id: 'label',
    topic: 'label',
    wording: 'The label on the wrapping says how it was decontaminated and on what date.',
    source: `${EPA_1992}; ${CALIFORNIA}`,
    verified: true,
  },
  foilAndBag: {
    id: 'foil-and-bag',
    topic: 'wrap',
    wording:
      'Wrapped in aluminium foil, shiny side out, and put into a plastic bag; dried and kept where there is no dust.',
    source: `${EPA_1992}; ${CALIFORNIA}`,
    verified: true,
  },
  noFoilForPfas: {
    id: 'no-foil-for-pfas',
    topic: 'wrap',
    wording: 'No aluminium foil where PFAS are asked for: a plastic bag alone.',
    source: 'state guides on PFAS sampling, from memory',
    verified: false,
  },
  offTheGround: {
    id: 'off-the-ground',
    topic: 'wrap',
    wording: 'Clean gear is not laid on the ground or on what is dirty before it goes into the well.',
    source: `${EPA_1992}; ${CALIFORNIA}`,
    verified: true,
  },
  deviation: {
    id: 'deviation-with-reason',
    topic: 'deviation',
    wording: 'Another way of cleaning is allowed where this one does not do; it is recorded with why.',
    source: 'US EPA Region 4, LSASDPROC-205-R4, 22 Jun 2020, p. 1, read in a copy',
    verified: true,
  },
  wasteContained: {
    id: 'waste-contained',
    topic: 'waste',
    wording: 'Waste fluids are contained until it is known how they must be disposed of.',
    source: `${EPA_1992}; ${CALIFORNIA}`,
    verified: true,
  },
  freshWater: {
    id: 'fresh-water-at-each-location',
    topic: 'water',
    wording: 'New wash and rinse water at each location; no rinse water serves twice.',
    source: SOP_003,
    verified: true,
  },
  waterDaily: {
    id: 'water-changed-daily',
    topic: 'water',
    wording: 'Another plan: the water is changed daily, sooner where it looks dirty.',
    source: 'Colorado state file, doc 936441, page 62',
    verified: true,
  },
  freezing: {
    id: 'freezing-weather',
    topic: 'weather',
    wording:
      'In freezing weather soap and water are impossible: carry enough clean gear, and clean it where it is warm.',
    source: CRREL_1995,
    verified: true,
  },
  dedicatedOutside: {
    id: 'dedicated-gear-kept-outside',
    topic: 'dedicated',
    wording: 'Dedicated gear that is not kept in its well is rinsed with distilled or deionized water before use.',
    source: 'Colorado state file, doc 936441, page 62',
    verified: true,
  },
  dedicatedAdvised: {
    id: 'dedicated-gear-advised',
    topic: 'dedicated',
    wording: 'Dedicated gear is advised where carry-over is a worry and concentrations exceed a few µg/L.',
    source: CRREL_1995,
    verified: true,
  },
  tubingStays: {
    id: 'tubing-stays',
    topic: 'dedicated',
    wording: 'Tubing is not moved between wells: every material that was tested gives off later what it took up.',
    source: 'study of tubing, osti.gov/biblio/290211',
    verified: true,
  },
  highConcentrations: {
    id: 'high-concentrations-linger',
    topic: 'evidence',
    wording:
      'After a full wash trichloroethylene was still found in the last rinse where the well before had more than 1,600 µg/L, and not after wells with less: what the last well had decides how much a blank is worth.',
    source: 'US Army CRREL, Special Report 97-24, on a study of 1989',
    verified: true,
  },
  fewStudies: {
    id: 'few-studies',
    topic: 'evidence',
    wording:
      'Only five studies compared protocols: a blank through the cleaned gear shows more than any list of steps.',
    source: CRREL_1995,
    verified: true,
  },
  shortContact: {
    id: 'short-contact',
    topic: 'evidence',
    wording: 'Hours in a well leave far less in soft parts than days: pull the pump when the bottles are filled.',
    source: CRREL_1995,
    verified: true,
  },
} as const satisfies Readonly<Record<string, DeconHandlingRule>>;
