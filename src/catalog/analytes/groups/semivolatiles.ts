import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  amberLitre,
  cool,
  days,
  filledBottle,
  filteredOnlyWithReason,
  ifShort,
  nothingAdded,
  otherwise,
  prescribed,
  twoClocks,
} from '../group-parts.ts';
import { PUBLICATIONS, recalled } from '../publications.ts';

const { planWithHerbicides, planWithMetals, planWithOrganics, sw846Recalled, tableII2014, tableIIRecalled } =
  PUBLICATIONS;
const taken = {
  cooling: cool(tableII2014),
  filtration: filteredOnlyWithReason(),
  filling: filledBottle('semivolatiles', 1_000),
  shortWater: ifShort('semivolatiles', 1_000),
} as const;
const sevenAndForty = twoClocks(days(7), days(40));

export const semivolatiles: AnalyteGroup = {
  ...taken,
  id: 'semivolatiles',
  title: 'Semivolatile organic compounds',
  methods: ['SW-846 8270', 'EPA 625.1'],
  container: {
    ...amberLitre(planWithMetals),
    bottles: { ...planWithMetals, count: 2, volumeMl: 1_000, note: 'One is analysed; the second stands by.' },
  },
  preservation: nothingAdded(planWithOrganics),
  holding: [prescribed(planWithOrganics, sevenAndForty)],
};

export const aromatics: AnalyteGroup = {
  ...taken,
  id: 'polycyclic-aromatics',
  title: 'Polycyclic aromatic hydrocarbons',
  methods: ['SW-846 8270 SIM', 'SW-846 8310'],
  container: amberLitre(planWithOrganics),
  preservation: nothingAdded(planWithOrganics),
  cooling: cool(planWithOrganics, true),
  holding: [prescribed(planWithOrganics, sevenAndForty)],
};

export const pesticides: AnalyteGroup = {
  ...taken,
  id: 'organochlorine-pesticides',
  title: 'Organochlorine pesticides',
  methods: ['SW-846 8081', 'EPA 608.3'],
  container: amberLitre(planWithOrganics),
  preservation: { ...nothingAdded(tableIIRecalled, 'pH between 5 and 9.'), ph: { from: '5', to: '9' } },
  holding: [prescribed(planWithOrganics, sevenAndForty)],
};

export const herbicides: AnalyteGroup = {
  ...taken,
  id: 'chlorinated-herbicides',
  title: 'Chlorinated herbicides',
  methods: ['SW-846 8151'],
  container: amberLitre(planWithHerbicides),
  preservation: nothingAdded(sw846Recalled),
  holding: [prescribed(sw846Recalled, sevenAndForty)],
};

export const biphenyls: AnalyteGroup = {
  ...taken,
  id: 'polychlorinated-biphenyls',
  title: 'Polychlorinated biphenyls',
  methods: ['SW-846 8082', 'EPA 608.3'],
  container: amberLitre(planWithOrganics),
  preservation: nothingAdded(planWithOrganics),
  holding: [
    { ...prescribed(planWithOrganics, sevenAndForty), note: 'Older plans; the shortest of the lists that give one.' },
    otherwise(
      tableIIRecalled,
      'table-ii',
      'other-list',
      twoClocks(days(365), days(365)),
      'The plan follows 40 CFR 136.',
    ),
  ],
};

export const dieselRange: AnalyteGroup = {
  ...taken,
  id: 'diesel-and-oil-range',
  title: 'Petroleum hydrocarbons, diesel and oil range',
  methods: ['SW-846 8015'],
  container: amberLitre(planWithOrganics),
  preservation: nothingAdded(planWithOrganics),
  holding: [prescribed(planWithOrganics, sevenAndForty)],
};

const method1664 = recalled('EPA Method 1664, and 40 CFR 136.3, Table II');

export const oilAndGrease: AnalyteGroup = {
  ...taken,
  id: 'oil-and-grease',
  title: 'Oil and grease',
  methods: ['EPA 1664'],
  container: { ...amberLitre(method1664), colour: 'any' },
  preservation: added(method1664, [['hydrochloric-acid'], ['sulfuric-acid']], { below: '2' }),
  cooling: cool(method1664),
  holding: [prescribed(method1664, [{ clock: 'collection-to-analysis', ...days(28) }])],
};

export const phenols: AnalyteGroup = {
  ...taken,
  id: 'phenols',
  title: 'Phenols by 4-aminoantipyrine',
  methods: ['EPA 420.1'],
  container: { ...amberLitre(PUBLICATIONS.tableII1995), colour: 'any' },
  preservation: added(PUBLICATIONS.tableII1995, [['sulfuric-acid']], { below: '2' }),
  holding: [prescribed(PUBLICATIONS.tableII1995, [{ clock: 'collection-to-analysis', ...days(28) }])],
};
