import type { AnalyteGroup } from '../analyte-group.ts';
import {
  added,
  bottle,
  clock,
  cool,
  days,
  fieldFiltered,
  filledBottle,
  filteredAsPlanned,
  hours,
  ifShort,
  nothingAdded,
  prescribed,
  toAnalysis,
} from '../group-parts.ts';
import { PUBLICATIONS, type Publication } from '../publications.ts';

const { tableII1995, tableII2014, tableIIRecalled } = PUBLICATIONS;
const taken = {
  filtration: filteredAsPlanned(),
  filling: filledBottle('nutrients', 125),
  shortWater: ifShort('nutrients', 50),
} as const;

/** One bottle with sulfuric acid below pH 2 for 28 days, as several nutrients have it. */
function withSulfuricAcid(
  said: Publication,
  volumeMl: number,
): Pick<AnalyteGroup, 'container' | 'preservation' | 'cooling' | 'holding'> {
  return {
    container: bottle(said, volumeMl),
    preservation: added(said, [['sulfuric-acid']], { below: '2' }),
    cooling: cool(said),
    holding: [prescribed(said, toAnalysis(days(28)))],
  };
}

/** Nothing added, and two days. */
function forTwoDays(said: Publication): Pick<AnalyteGroup, 'container' | 'preservation' | 'cooling' | 'holding'> {
  return {
    container: bottle(said, 125),
    preservation: nothingAdded(said),
    cooling: cool(said),
    holding: [prescribed(said, toAnalysis(hours(48)))],
  };
}

export const nitrate: AnalyteGroup = {
  ...taken,
  ...forTwoDays(tableIIRecalled),
  id: 'nitrate',
  title: 'Nitrate',
  methods: ['EPA 300.0', 'SW-846 9056'],
};

export const nitrite: AnalyteGroup = {
  ...taken,
  ...forTwoDays(tableIIRecalled),
  id: 'nitrite',
  title: 'Nitrite',
  methods: ['EPA 300.0', 'SW-846 9056'],
};

export const nitratePlusNitrite: AnalyteGroup = {
  ...taken,
  ...withSulfuricAcid(tableIIRecalled, 125),
  id: 'nitrate-plus-nitrite',
  title: 'Nitrate and nitrite together',
  methods: ['EPA 353.2'],
};

export const ammonia: AnalyteGroup = {
  ...taken,
  ...withSulfuricAcid(tableII2014, 500),
  id: 'ammonia',
  title: 'Ammonia',
  methods: ['EPA 350.1'],
  filling: filledBottle('nutrients', 500),
};

export const organicNitrogen: AnalyteGroup = {
  ...taken,
  ...withSulfuricAcid(tableII2014, 500),
  id: 'kjeldahl-nitrogen',
  title: 'Kjeldahl and organic nitrogen',
  methods: ['EPA 351.2'],
  filling: filledBottle('nutrients', 500),
};

export const totalPhosphorus: AnalyteGroup = {
  ...taken,
  ...withSulfuricAcid(tableII1995, 125),
  cooling: cool(tableII2014),
  id: 'phosphorus-total',
  title: 'Phosphorus, total',
  methods: ['EPA 365.1'],
};

export const orthophosphate: AnalyteGroup = {
  ...taken,
  ...forTwoDays(tableIIRecalled),
  id: 'orthophosphate',
  title: 'Orthophosphate',
  methods: ['EPA 365.1', 'EPA 300.0'],
  filtration: fieldFiltered(),
  holding: [
    prescribed(tableIIRecalled, [
      clock('collection-to-filtration', { written: '15 min', minutes: 15 }),
      clock('collection-to-analysis', hours(48)),
    ]),
  ],
};

export const oxygenDemandChemical: AnalyteGroup = {
  ...taken,
  ...withSulfuricAcid(tableII2014, 125),
  id: 'chemical-oxygen-demand',
  title: 'Chemical oxygen demand',
  methods: ['EPA 410.4'],
};

export const oxygenDemandBiochemical: AnalyteGroup = {
  ...taken,
  id: 'biochemical-oxygen-demand',
  title: 'Biochemical oxygen demand',
  methods: ['SM 5210'],
  container: bottle(tableII2014, 1_000),
  preservation: nothingAdded(tableII2014),
  cooling: cool(tableII2014),
  filtration: filteredAsPlanned(),
  holding: [prescribed(tableII2014, toAnalysis(hours(48)))],
  filling: filledBottle('nutrients', 1_000),
  shortWater: ifShort('nutrients', 500),
};
