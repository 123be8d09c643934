import { PUBLICATIONS, type Publication, recalled } from './publications.ts';

export const QC_TYPES = [
  'field-duplicate',
  'ms-msd',
  'equipment-blank',
  'pre-use-blank',
  'field-blank',
  'trip-blank',
  'temperature-blank',
  'split',
] as const;
export type QcType = (typeof QC_TYPES)[number];

/** What is counted to know how many are owed; `units` are pieces of gear that go from well to well. */
export const QC_BASES = ['samples', 'unit-days', 'days', 'coolers', 'sites', 'units', 'request'] as const;
export type QcBasis = (typeof QC_BASES)[number];

/** How often a QC sample is taken, and what its result must be, as one document has it. */
export interface QcRule extends Publication {
  /** Plain words of our own; plans cite it. */
  readonly id: string;
  readonly type: QcType;
  readonly wording: string;
  readonly basis: QcBasis;
  /** One for each so many of the basis, or part of them; missing for what is taken on request. */
  readonly oneForEach?: number;
  /** For which groups by their class of filling; missing: for all. */
  readonly onlyFor?: 'volatiles' | 'pfas';
  /** Volume in all, as times that of one sample. */
  readonly volumeTimes?: number;
  /** What its result is compared by. */
  readonly rpdAtMostPercent?: string;
  readonly isBelowReportingLimit?: true;
  readonly atMostC?: string;
  /** Holds where the plan says nothing. */
  readonly isDefault: boolean;
}

function plan(doc: number, page: number): Publication {
  return { source: `a sampling plan, county file, doc ${doc}, page ${page}`, dated: 'not told', verified: true };
}

const region9 = {
  source: 'US EPA Region 9, plan for sampling and analysis, county file, doc 605711, page 268',
  dated: '1998',
  verified: true,
} as const;
const californiaPfas = {
  source:
    'California State Water Resources Control Board, guide on PFAS sampling, in a file of a regional board, doc 109151, page 22',
  dated: '2019',
  verified: true,
} as const;

export const QC_RULES: readonly QcRule[] = [
  {
    ...plan(932734, 226),
    id: 'field-duplicate-one-in-10',
    type: 'field-duplicate',
    wording: 'A blind field duplicate for each 10 samples or part of them; RPD of 30 % at most.',
    basis: 'samples',
    oneForEach: 10,
    rpdAtMostPercent: '30',
    isDefault: true,
  },
  {
    ...plan(453814, 47),
    id: 'field-duplicate-one-in-20',
    type: 'field-duplicate',
    wording: 'A blind field duplicate for each 20 samples, at wells where something will likely be found.',
    basis: 'samples',
    oneForEach: 20,
    isDefault: false,
  },
  {
    ...region9,
    id: 'ms-msd-one-in-20',
    type: 'ms-msd',
    wording: 'Matrix spike and its duplicate for each 20 samples of a matrix and analysis; never of a blank.',
    basis: 'samples',
    oneForEach: 20,
    isDefault: true,
  },
  {
    ...recalled('usual request of laboratories'),
    id: 'ms-msd-three-volumes',
    type: 'ms-msd',
    wording: 'For organics three volumes in all: the sample, the spike and its duplicate.',
    basis: 'request',
    volumeTimes: 3,
    isDefault: true,
  },
  {
    ...plan(565229, 291),
    id: 'equipment-blank-each-day',
    type: 'equipment-blank',
    wording: 'A rinsate blank for each day and unit that goes from well to well; none of dedicated or disposable gear.',
    basis: 'unit-days',
    oneForEach: 1,
    isBelowReportingLimit: true,
    isDefault: true,
  },
  {
    source: 'a plan in a mine permit file of Colorado, doc 658379, page 22',
    dated: 'not told',
    verified: true,
    id: 'equipment-blank-each-5-samples',
    type: 'equipment-blank',
    wording: 'A rinsate blank after every 5 samples or fewer.',
    basis: 'samples',
    oneForEach: 5,
    isBelowReportingLimit: true,
    isDefault: false,
  },
  {
    ...PUBLICATIONS.commonPractice,
    id: 'equipment-blank-one-in-20',
    type: 'equipment-blank',
    wording: 'A rinsate blank for each 20 samples and kind of gear.',
    basis: 'samples',
    oneForEach: 20,
    isBelowReportingLimit: true,
    isDefault: false,
  },
  {
    ...plan(600016, 102),
    id: 'pre-use-blank-once',
    type: 'pre-use-blank',
    wording:
      'A blank through a pump before it is installed as dedicated: below the reporting limit before it goes to the site.',
    basis: 'units',
    oneForEach: 1,
    isBelowReportingLimit: true,
    isDefault: true,
  },
  {
    ...plan(567537, 35),
    id: 'field-blank-volatiles-each-day',
    type: 'field-blank',
    wording: 'A field blank for volatiles each day.',
    basis: 'days',
    oneForEach: 1,
    onlyFor: 'volatiles',
    isBelowReportingLimit: true,
    isDefault: true,
  },
  {
    ...californiaPfas,
    id: 'field-blank-pfas-each-site',
    type: 'field-blank',
    wording: 'A field blank for PFAS for each site.',
    basis: 'sites',
    oneForEach: 1,
    onlyFor: 'pfas',
    isBelowReportingLimit: true,
    isDefault: true,
  },
  {
    ...plan(932734, 226),
    id: 'trip-blank-volatiles-each-cooler',
    type: 'trip-blank',
    wording:
      'A trip blank in each cooler with volatiles: filled by the laboratory, never opened, out and back with the bottles.',
    basis: 'coolers',
    oneForEach: 1,
    onlyFor: 'volatiles',
    isBelowReportingLimit: true,
    isDefault: true,
  },
  {
    ...californiaPfas,
    id: 'trip-blank-pfas-each-cooler',
    type: 'trip-blank',
    wording: 'A trip blank for PFAS as well, as one state asks.',
    basis: 'coolers',
    oneForEach: 1,
    onlyFor: 'pfas',
    isBelowReportingLimit: true,
    isDefault: false,
  },
  {
    ...recalled('US EPA, procedures of its regions'),
    id: 'temperature-blank-each-cooler',
    type: 'temperature-blank',
    wording: 'A temperature blank in each cooler: a vial or 250 mL of water, at or below 6 °C and above 0.',
    basis: 'coolers',
    oneForEach: 1,
    atMostC: '6',
    isDefault: true,
  },
  {
    ...PUBLICATIONS.commonPractice,
    id: 'split-on-request',
    type: 'split',
    wording: 'A split for another laboratory on request; the plan says by what RPD they agree.',
    basis: 'request',
    isDefault: true,
  },
];

/** How a pair is compared near the reporting limit. */
export const LOW_LEVEL_RULE = {
  ...recalled('US EPA, National Functional Guidelines, and conventions of Region 1'),
  id: 'replicates-near-the-limit',
  wording:
    'Where one result is below 5 reporting limits, the difference counts: at most one reporting limit, in some programmes two.',
  lowBelowTimes: '5',
  lowWithinTimes: '1',
  lowWithinTimesElsewhere: '2',
} as const;

/** How a field duplicate stays blind. */
export const BLIND_DUPLICATE_RULE = {
  source: 'Hawaii Department of Health, Technical Guidance Manual, 10.6',
  dated: 'not told',
  verified: true,
  id: 'blind-duplicate-looks-ordinary',
  wording:
    'It looks like any other sample: a plausible number and another time on the label; its parent stays in the field record.',
} as const;

/** Undefined where the catalog of this release holds no rule of that name. */
export function qcRule(id: string): QcRule | undefined {
  return QC_RULES.find((rule) => rule.id === id);
}
