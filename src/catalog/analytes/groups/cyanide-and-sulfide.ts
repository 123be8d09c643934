import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  bottle,
  cool,
  days,
  filledBottle,
  filteredAsPlanned,
  hours,
  ifShort,
  otherwise,
  prescribed,
  toAnalysis,
} from '../group-parts.ts';
import { PUBLICATIONS } from '../publications.ts';

const { tableII1995, tableII2014, tableIIRecalled } = PUBLICATIONS;

export const cyanide: AnalyteGroup = {
  id: 'cyanide',
  title: 'Cyanide, total, available or free',
  methods: ['EPA 335.4', 'SW-846 9012'],
  container: bottle(tableII2014, 250, { mostVolumeMl: 500 }),
  preservation: {
    ...added(tableII2014, [['sodium-hydroxide']], { above: '10' }),
    note: 'Above 12 in older lists (a sampling plan, county file, doc 441390, page 363). A reducing agent where an oxidant is present; sulfide is looked for first.',
  },
  cooling: cool(tableII2014),
  filtration: filteredAsPlanned(),
  holding: [
    prescribed(tableII2014, toAnalysis(days(14))),
    otherwise(
      tableIIRecalled,
      'sulfide-present',
      'interference-left',
      toAnalysis(hours(24)),
      'Sulfide is present and was not removed.',
    ),
  ],
  filling: filledBottle('cyanide', 250),
  shortWater: ifShort('cyanide', 100),
};

export const sulfide: AnalyteGroup = {
  id: 'sulfide',
  title: 'Sulfide',
  methods: ['SM 4500-S2'],
  container: bottle(tableII1995, 250),
  preservation: added(tableII1995, [['zinc-acetate', 'sodium-hydroxide']], { above: '9' }),
  cooling: cool(tableII2014),
  filtration: filteredAsPlanned(),
  holding: [prescribed(tableII1995, toAnalysis(days(7)))],
  filling: filledBottle('sulfide', 250),
  shortWater: ifShort('sulfide', 100),
};
