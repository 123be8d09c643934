import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  bottle,
  cool,
  days,
  fieldFiltered,
  filledBottle,
  ifShort,
  neverFiltered,
  prescribed,
  toAnalysis,
} from '../group-parts.ts';
import { PUBLICATIONS, recalled } from '../publications.ts';

const { tableIIRecalled } = PUBLICATIONS;
const acids = [['hydrochloric-acid'], ['sulfuric-acid'], ['phosphoric-acid']] as const;
const taken = {
  methods: ['SM 5310', 'SW-846 9060'],
  preservation: added(tableIIRecalled, acids, { below: '2' }),
  cooling: cool(tableIIRecalled),
  holding: [prescribed(tableIIRecalled, toAnalysis(days(28)))],
  filling: filledBottle('organic-carbon', 125),
  shortWater: ifShort('organic-carbon', 40),
} as const;

export const totalOrganicCarbon: AnalyteGroup = {
  ...taken,
  id: 'organic-carbon-total',
  title: 'Organic carbon, total',
  container: bottle(tableIIRecalled, 125),
  filtration: neverFiltered(),
};

export const dissolvedOrganicCarbon: AnalyteGroup = {
  ...taken,
  id: 'organic-carbon-dissolved',
  title: 'Organic carbon, dissolved',
  container: { ...bottle(recalled('SM 5310'), 125, { materials: ['glass'] }), colour: 'amber' },
  filtration: {
    ...fieldFiltered(),
    ...recalled('SM 5310'),
    note: 'Through a filter that gives no carbon off, then the acid.',
  },
};
