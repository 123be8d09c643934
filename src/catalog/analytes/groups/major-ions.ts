import type { AnalyteGroup, CoolingRule } from '../analyte-group.ts';
import {
  bottle,
  cool,
  days,
  filledBottle,
  filteredAsPlanned,
  ifShort,
  notCooled,
  nothingAdded,
  PLASTIC_OR_GLASS,
  prescribed,
  toAnalysis,
} from '../group-parts.ts';
import { PUBLICATIONS, type Publication } from '../publications.ts';

const { tableII1995, tableII2014 } = PUBLICATIONS;

interface Ion {
  readonly id: string;
  readonly title: string;
  readonly methods: readonly string[];
  readonly said: Publication;
  readonly keptDays: number;
  readonly cooling: CoolingRule;
  readonly materials?: typeof PLASTIC_OR_GLASS;
}

/** Nothing added; what differs is how long and how cool. */
function ion({ id, title, methods, said, keptDays, cooling, materials = PLASTIC_OR_GLASS }: Ion): AnalyteGroup {
  return {
    id,
    title,
    methods,
    container: bottle(said, 125, { materials }),
    preservation: nothingAdded(said),
    cooling,
    filtration: filteredAsPlanned(),
    holding: [prescribed(said, toAnalysis(days(keptDays)))],
    filling: filledBottle('major-ions', 125),
    shortWater: ifShort('major-ions', 50),
  };
}

export const sulfate = ion({
  id: 'sulfate',
  title: 'Sulfate',
  methods: ['EPA 300.0', 'SW-846 9056'],
  said: tableII1995,
  keptDays: 28,
  cooling: cool(tableII2014),
});

export const chloride = ion({
  id: 'chloride',
  title: 'Chloride',
  methods: ['EPA 300.0', 'SW-846 9056'],
  said: tableII2014,
  keptDays: 28,
  cooling: notCooled(tableII2014),
});

export const bromide = ion({
  id: 'bromide',
  title: 'Bromide',
  methods: ['EPA 300.0', 'SW-846 9056'],
  said: tableII2014,
  keptDays: 28,
  cooling: notCooled(tableII2014),
});

export const fluoride = ion({
  id: 'fluoride',
  title: 'Fluoride',
  methods: ['EPA 300.0', 'SW-846 9056'],
  said: tableII2014,
  keptDays: 28,
  cooling: notCooled(tableII2014),
  materials: ['polyethylene'],
});

const anyAlkalinity = ion({
  id: 'alkalinity',
  title: 'Alkalinity and acidity',
  methods: ['SM 2320', 'SM 2310'],
  said: tableII2014,
  keptDays: 14,
  cooling: cool(tableII2014),
});

export const alkalinity: AnalyteGroup = {
  ...anyAlkalinity,
  container: bottle(tableII2014, 250),
  filling: {
    ...PUBLICATIONS.commonPractice,
    fillClass: 'major-ions',
    headspace: 'none',
    note: 'Good practice, as carbon dioxide escapes.',
  },
  shortWater: ifShort('major-ions', 100),
};
