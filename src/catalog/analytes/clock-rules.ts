import { PUBLICATIONS, recalled } from './publications.ts';
import { figure, type WrittenRule } from './rule-figure.ts';

const { region1Page8, sw846Answers, tableII2014, tableIIRecalled } = PUBLICATIONS;
const california = {
  source: 'California EPA, Ground Water Sampling, county file, doc 612081, page 30',
  dated: '1995',
  verified: true,
} as const;

/** What holds for every group: when clocks begin, what cool means, when acid goes in. */
export const CLOCK_RULES = {
  startsAtCollection: {
    ...tableIIRecalled,
    id: 'starts-at-collection',
    wording: 'The clock starts at collection; for a composite over time, when it is complete. A time has its offset.',
  },
  preserveSoon: {
    ...tableIIRecalled,
    id: 'preserve-soon',
    wording: 'Each grab sample is preserved within 15 minutes of collection.',
    figures: [figure('preserved-within', '15', 'min')],
  },
  coolNotFrozen: {
    ...tableII2014,
    id: 'cool-not-frozen',
    wording:
      'Cool is at or below 6 °C and not frozen; a reading is not rounded down to it. The limit was read in a copy, the wording is recalled.',
    figures: [figure('at-most', '6', '°C')],
  },
  fieldWithinQuarterHour: {
    ...tableII2014,
    id: 'field-within-quarter-hour',
    wording: '"Analyse within 15 minutes" is a field measurement.',
    figures: [figure('analysed-within', '15', 'min')],
  },
  testPaper: {
    ...california,
    id: 'test-paper',
    wording:
      'The pH of a preserved sample is checked with test paper in the field; no sample goes back to be preserved.',
  },
  noPaperInVials: {
    source: 'a sampling plan, county file, doc 956133, page 112',
    dated: 'not told',
    verified: true,
    id: 'no-paper-in-vials',
    wording: 'Nothing is dipped into a vial for volatiles.',
  },
  acidifiedMetalsWarm: {
    ...region1Page8,
    id: 'acidified-metals-warm',
    wording: 'Metals acidified below pH 2 need no cooling.',
    figures: [figure('below', '2', 'pH')],
  },
  filterBeforeAcid: {
    ...region1Page8,
    id: 'filter-before-acid',
    wording: 'For dissolved metals the filter comes first; filtered water is preserved at once.',
  },
  filterSoon: {
    ...tableIIRecalled,
    id: 'filter-soon',
    wording: 'What is filtered is filtered within 15 minutes of collection.',
    figures: [figure('filtered-within', '15', 'min')],
  },
  acidLater: {
    ...tableIIRecalled,
    id: 'acid-later',
    wording: 'Metals may be shipped without acid where they are acidified at least 24 hours before analysis.',
    figures: [figure('acidified-before-analysis', '24', 'h')],
  },
  sixMonths: {
    ...sw846Answers,
    id: 'six-months',
    wording: 'Six months are read as 180 days.',
    figures: [figure('six-months', '180', 'd')],
  },
  twoClocks: {
    ...sw846Answers,
    id: 'two-clocks',
    wording: 'To extraction and from extraction to analysis are two limits, each with its own deadline.',
  },
  whichList: {
    source: 'US EPA, SW-846, chapter 4, rev. 6, preface, read in a copy',
    dated: '2018-12',
    verified: true,
    id: 'which-list',
    wording:
      'Times of SW-846 are guidance; those of 40 CFR 136 bind where a discharge permit asks for them. The plan says which list rules.',
  },
  glassForMetals: {
    ...california,
    id: 'glass-for-metals',
    wording:
      'One state prefers glass for metals, as plastic may take metals up and acid not free them; most methods take plastic.',
  },
  shortestGoverns: {
    ...PUBLICATIONS.commonPractice,
    id: 'shortest-governs',
    wording: 'Where one bottle serves several analytes, the shortest clock in it governs its shipment.',
  },
  mostThatCounts: {
    ...recalled('40 CFR 136.3, Table II, footnote 4'),
    id: 'no-longer-than-maximum',
    wording: 'A holding time is the most that counts as valid; samples are analysed as soon as they can be.',
  },
} as const satisfies Readonly<Record<string, WrittenRule>>;
