import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  bottle,
  clock,
  cool,
  days,
  fieldFiltered,
  filledBottle,
  hours,
  ifShort,
  notCooled,
  otherwise,
  prescribed,
  sixMonths,
  toAnalysis,
  unfiltered,
} from '../group-parts.ts';
import { PUBLICATIONS, recalled } from '../publications.ts';

const { planWithMetals, planWithOrganics, region1Page8, sw846Answers, sw846Recalled, tableII2014 } = PUBLICATIONS;
const taken = {
  cooling: notCooled(region1Page8),
  filtration: unfiltered(),
  filling: filledBottle('metals', 250),
  shortWater: ifShort('metals', 100),
} as const;
const nitric = added(planWithMetals, [['nitric-acid']], { below: '2' });

export const totalMetals: AnalyteGroup = {
  ...taken,
  id: 'metals-total',
  title: 'Metals, total',
  methods: ['SW-846 6010', 'SW-846 6020', 'EPA 200.7', 'EPA 200.8'],
  container: bottle(planWithMetals, 250, { mostVolumeMl: 500 }),
  preservation: nitric,
  holding: [prescribed(sw846Answers, toAnalysis(sixMonths()))],
};

export const dissolvedMetals: AnalyteGroup = {
  ...taken,
  id: 'metals-dissolved',
  title: 'Metals, dissolved',
  methods: ['SW-846 6010', 'SW-846 6020', 'EPA 200.7', 'EPA 200.8'],
  container: bottle(planWithOrganics, 250, { mostVolumeMl: 500 }),
  preservation: {
    ...added(planWithOrganics, [['nitric-acid']], { below: '2' }),
    note: 'The acid goes in after the filter.',
  },
  filtration: fieldFiltered(),
  holding: [
    {
      ...prescribed(sw846Answers, toAnalysis(sixMonths())),
      note: 'Filtered within 15 min of collection (40 CFR 136.3, Table II, footnote 7, from memory).',
    },
  ],
  filling: filledBottle('filtered-metals', 250),
  shortWater: ifShort('filtered-metals', 100),
};

export const mercury: AnalyteGroup = {
  ...taken,
  id: 'mercury',
  title: 'Mercury by cold vapour',
  methods: ['SW-846 7470', 'EPA 245.1'],
  container: bottle(sw846Answers, 250),
  preservation: added(sw846Answers, [['nitric-acid']], { below: '2' }),
  holding: [prescribed(sw846Answers, toAnalysis(days(28)))],
};

const method1631 = recalled('EPA Method 1631, and the list of a state laboratory');

export const mercuryLowLevel: AnalyteGroup = {
  ...taken,
  id: 'mercury-low-level',
  title: 'Mercury at low level',
  methods: ['EPA 1631'],
  container: {
    ...bottle(method1631, 250, { materials: ['fluoropolymer', 'glass'] }),
    closure: 'cap lined with fluoropolymer',
  },
  preservation: {
    ...added(method1631, [['hydrochloric-acid'], ['bromine-monochloride']]),
    note: '5 mL for a litre; within 48 h of collection.',
  },
  cooling: notCooled(method1631),
  holding: [
    prescribed(method1631, [clock('collection-to-preservation', hours(48)), clock('collection-to-analysis', days(90))]),
  ],
};

export const hexavalentChromium: AnalyteGroup = {
  ...taken,
  id: 'chromium-hexavalent',
  title: 'Chromium VI',
  methods: ['EPA 218.6', 'SW-846 7196', 'SW-846 7199'],
  container: bottle(tableII2014, 250),
  preservation: added(tableII2014, [['ammonium-sulfate-buffer']], { from: '9.3', to: '9.7' }),
  cooling: cool(tableII2014),
  holding: [
    prescribed(tableII2014, toAnalysis(days(28))),
    otherwise(sw846Recalled, 'not-buffered', 'not-preserved', toAnalysis(hours(24)), 'No buffer was added.'),
  ],
};

export const hardness: AnalyteGroup = {
  ...taken,
  id: 'hardness',
  title: 'Hardness',
  methods: ['SM 2340'],
  container: bottle(tableII2014, 250),
  preservation: added(tableII2014, [['nitric-acid'], ['sulfuric-acid']], { below: '2' }),
  cooling: notCooled(tableII2014),
  holding: [prescribed(tableII2014, toAnalysis(sixMonths()))],
};

export const boron: AnalyteGroup = {
  ...taken,
  id: 'boron',
  title: 'Boron',
  methods: ['EPA 200.7'],
  container: bottle(tableII2014, 250, { materials: ['polyethylene', 'fluoropolymer', 'quartz'] }),
  preservation: added(tableII2014, [['nitric-acid']], { below: '2' }),
  cooling: notCooled(tableII2014),
  holding: [prescribed(tableII2014, toAnalysis(sixMonths()))],
};
