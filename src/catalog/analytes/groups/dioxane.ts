import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  amberLitre,
  bottle,
  cool,
  days,
  filledBottle,
  filledToTheBrim,
  filteredOnlyWithReason,
  ifShort,
  methodRecalled,
  neverFiltered,
  nothingAdded,
  prescribed,
  toAnalysis,
  twoClocks,
  vials,
} from '../group-parts.ts';
import { PUBLICATIONS, recalled } from '../publications.ts';

const method522 = methodRecalled('522');
const sim = recalled('US EPA, SW-846 8270 and 8260 with selected ions');

export const dioxaneDrinkingWater: AnalyteGroup = {
  id: 'dioxane-522',
  title: '1,4-Dioxane by solid-phase extraction',
  methods: ['EPA 522'],
  container: { ...bottle(method522, 500, { materials: ['glass'] }), colour: 'amber' },
  preservation: {
    ...added(method522, [['sodium-bisulfate']], { below: '4' }),
    ifChlorinated: { add: 'sodium-sulfite' },
  },
  cooling: { ...cool(method522), first: { hours: 48, atMostC: '10' } },
  filtration: filteredOnlyWithReason(),
  holding: [prescribed(method522, twoClocks(days(28), days(28)))],
  filling: filledBottle('semivolatiles', 500),
  shortWater: ifShort('semivolatiles', 500),
};

export const dioxaneExtracted: AnalyteGroup = {
  id: 'dioxane-8270',
  title: '1,4-Dioxane, extracted, selected ions',
  methods: ['SW-846 8270 SIM'],
  container: amberLitre(sim),
  preservation: nothingAdded(sim),
  cooling: cool(PUBLICATIONS.tableII2014),
  filtration: filteredOnlyWithReason(),
  holding: [prescribed(sim, twoClocks(days(7), days(40)))],
  filling: filledBottle('semivolatiles', 1_000),
  shortWater: ifShort('semivolatiles', 1_000),
};

export const dioxanePurged: AnalyteGroup = {
  id: 'dioxane-8260',
  title: '1,4-Dioxane, purged, selected ions',
  methods: ['SW-846 8260 SIM'],
  container: vials(sim),
  preservation: added(sim, [['hydrochloric-acid']], { below: '2' }),
  cooling: cool(PUBLICATIONS.tableII2014),
  filtration: neverFiltered(),
  holding: [prescribed(sim, toAnalysis(days(14)))],
  filling: filledToTheBrim('volatiles'),
  shortWater: ifShort('volatiles', 40),
};
