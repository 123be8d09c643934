import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  cool,
  days,
  filledToTheBrim,
  ifShort,
  neverFiltered,
  nothingAdded,
  otherwise,
  prescribed,
  toAnalysis,
  vials,
} from '../group-parts.ts';
import { PUBLICATIONS } from '../publications.ts';

const { planWithOrganics, sw846Recalled, tableII2014, tableIIRecalled } = PUBLICATIONS;
const taken = {
  cooling: cool(tableII2014),
  filtration: neverFiltered(),
  filling: filledToTheBrim('volatiles'),
  shortWater: ifShort('volatiles', 40),
} as const;

export const volatiles: AnalyteGroup = {
  ...taken,
  id: 'volatiles',
  title: 'Volatile organic compounds, acidified',
  methods: ['SW-846 8260', 'EPA 624.1'],
  container: vials(planWithOrganics),
  preservation: {
    ...added(planWithOrganics, [['hydrochloric-acid']], { below: '2' }),
    ifChlorinated: { add: 'sodium-thiosulfate', percent: '0.008' },
  },
  holding: [
    prescribed(planWithOrganics, toAnalysis(days(14))),
    otherwise(tableIIRecalled, 'not-acidified', 'not-preserved', toAnalysis(days(7)), 'No acid was added.'),
  ],
};

export const volatilesUnpreserved: AnalyteGroup = {
  ...taken,
  id: 'volatiles-unpreserved',
  title: 'Volatile organic compounds, not acidified',
  methods: ['SW-846 8260'],
  container: vials(sw846Recalled),
  preservation: nothingAdded(
    sw846Recalled,
    'Where vinyl chloride, styrene or 2-chloroethyl vinyl ether count, or carbonate water fizzes with acid. Acidified and chilled pairs agreed in US Geological Survey, SIR 2022-5076.',
  ),
  holding: [prescribed(sw846Recalled, toAnalysis(days(7)))],
};

export const acroleinAcrylonitrile: AnalyteGroup = {
  ...taken,
  id: 'acrolein-acrylonitrile',
  title: 'Acrolein and acrylonitrile, in vials of their own',
  methods: ['EPA 624.1'],
  container: vials(tableIIRecalled),
  preservation: added(tableIIRecalled, [['hydrochloric-acid']], { from: '4', to: '5' }),
  holding: [
    prescribed(tableIIRecalled, toAnalysis(days(14))),
    otherwise(
      tableIIRecalled,
      'acrolein-not-adjusted',
      'not-preserved',
      toAnalysis(days(3)),
      'pH not adjusted, acrolein.',
    ),
  ],
};

export const fumigants: AnalyteGroup = {
  ...taken,
  id: 'fumigants',
  title: 'EDB and DBCP',
  methods: ['SW-846 8011', 'EPA 504.1'],
  container: vials(planWithOrganics),
  preservation: added(PUBLICATIONS.sw846Recalled, [['hydrochloric-acid'], ['sodium-thiosulfate']]),
  holding: [prescribed(planWithOrganics, toAnalysis(days(14)))],
};

export const gasolineRange: AnalyteGroup = {
  ...taken,
  id: 'gasoline-range',
  title: 'Petroleum hydrocarbons, gasoline range',
  methods: ['SW-846 8015', 'SW-846 8260'],
  container: vials(planWithOrganics, PUBLICATIONS.usualRequest),
  preservation: added(planWithOrganics, [['hydrochloric-acid']], { below: '2' }),
  holding: [prescribed(planWithOrganics, toAnalysis(days(14)))],
};
