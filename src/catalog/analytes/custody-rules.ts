import { PUBLICATIONS, type Publication, recalled } from './publications.ts';
import { figure, type WrittenRule } from './rule-figure.ts';

const epa1992 = {
  source: 'US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, p. 7-27, read in a copy',
  dated: '1992-11',
  verified: true,
} as const;

function inPlans(docs: string): Publication {
  return { source: `sampling plans, county file, ${docs}`, dated: 'not told', verified: true };
}

/** A field that a custody record or a label has. */
export interface PaperField extends Publication {
  readonly id: string;
  readonly wording: string;
  readonly on: 'custody-record' | 'label';
  /** `project`: once on the record. `sample`: for each line. `hand-over`: for each pair. `laboratory`: by who receives. */
  readonly of: 'project' | 'sample' | 'hand-over' | 'laboratory';
}

function onRecord(of: PaperField['of'], said: Publication, fields: Readonly<Record<string, string>>): PaperField[] {
  return Object.entries(fields).map(([id, wording]) => ({ ...said, id, wording, on: 'custody-record', of }));
}

function onLabel(fields: Readonly<Record<string, string>>): PaperField[] {
  const said = inPlans('doc 441390, page 377, and doc 600336, page 416');
  return Object.entries(fields).map(([id, wording]) => ({
    ...said,
    id: `label-${id}`,
    wording,
    on: 'label',
    of: 'sample',
  }));
}

export const PAPER_FIELDS: readonly PaperField[] = [
  ...onRecord('sample', epa1992, {
    'sample-number': 'Sample number',
    collector: 'Signature of the collector',
    collected: 'Date and time of collection',
    matrix: 'Kind of sample',
    'sampling-point': 'Sampling point',
    containers: 'Number of containers',
    analyses: 'Analyses asked for',
  }),
  ...onRecord('hand-over', inPlans('doc 617413, page 32, and doc 560087, page 47'), {
    signatures: 'Signatures of all who had it, with dates and times',
    companies: 'Who each signer works for',
  }),
  ...onRecord('sample', recalled('usual request of laboratories'), {
    preservatives: 'Preservative of each container',
    filtered: 'Filtered or not',
    'ms-msd': 'Which sample is for matrix spikes',
    turnaround: 'By when results are asked for',
  }),
  ...onRecord('project', inPlans('doc 578658, page 73, and doc 956133, page 112'), {
    project: 'Site or project, name and number',
    shipper: 'Who ships, and the number to follow it by',
    'ship-date': 'Date of shipping',
  }),
  ...onRecord('laboratory', inPlans('doc 560087, page 47, and doc 604349, page 22'), {
    'received-by': 'Received by, date and time',
    condition: 'Condition and temperature at receipt',
    'laboratory-number': 'Number of the laboratory',
  }),
  ...onLabel({
    sample: 'Sample number',
    project: 'Site or project',
    date: 'Date',
    time: 'Time',
    sampler: 'Initials of the sampler',
    preservative: 'Preservative',
    analyses: 'Analyses',
    matrix: 'Kind of sample',
  }),
];

/** How custody is kept, and what shows that nobody opened what travels. */
export const CUSTODY_RULES = {
  onePerCooler: {
    ...inPlans('doc 563535, page 53, and doc 956133, page 112'),
    id: 'one-per-cooler',
    wording: 'One custody record for each cooler, in a bag taped inside of the lid; as few custodians as can be.',
  },
  ownRecordOfSplit: {
    ...inPlans('doc 600025, page 21'),
    id: 'own-record-of-split',
    wording: 'Each laboratory has a custody record of its own where samples are split.',
  },
  inCustody: {
    ...inPlans('doc 553917, page 85, and doc 536997, page 397'),
    id: 'in-custody',
    wording:
      'A sample is in custody where it is in possession, or in view after that, or locked up by who had it, or in a secured area.',
  },
  inPairs: {
    ...inPlans('doc 617413, page 32'),
    id: 'in-pairs',
    wording: 'Giving and receiving are a pair, each with signer, date and time.',
  },
  clocksDiffer: {
    ...PUBLICATIONS.commonPractice,
    id: 'clocks-differ',
    wording: 'Received before given by up to 15 minutes is noted as two clocks that differ; more is asked about.',
    figures: [figure('clocks-differ-by', '15', 'min')],
  },
  beforeRelease: {
    source: 'a plan in a mine permit file of Colorado, doc 641310, page 13',
    dated: 'not told',
    verified: true,
    id: 'before-release',
    wording:
      'Before a cooler goes: record and containers agree, all is filled in, the right containers are tight and full and on ice since collection, volumes and QC suffice, deviations are told, no other site is in it.',
  },
  labelsStandWater: {
    source: 'US Geological Survey, National Field Manual, chapter A5, 5.5.1',
    dated: 'not told',
    verified: true,
    id: 'labels-waterproof',
    wording:
      'Labels stand water; a label that cannot be read is a sample lost. At the least: station, date and time, what it is for.',
  },
  tapeAcrossOpenings: {
    ...inPlans('doc 543479, page 15, and doc 956133, page 112'),
    id: 'tape-across-openings',
    wording:
      'Signed and dated tape across every opening, that must break to open; its numbers and whether it was whole are recorded at receipt.',
  },
  oneLineThrough: {
    ...inPlans('doc 795121, page 41'),
    id: 'one-line-through',
    wording: 'A correction is one line through what was, which stays readable, with the new value, initials and date.',
  },
} as const satisfies Readonly<Record<string, WrittenRule>>;
