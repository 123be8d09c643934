import type { AnalyteGroup } from '../analyte-group.ts';
import {
  bottle,
  cool,
  days,
  filledBottle,
  filteredAsPlanned,
  hours,
  ifShort,
  nothingAdded,
  prescribed,
  toAnalysis,
  unfiltered,
} from '../group-parts.ts';
import { PUBLICATIONS, type Publication } from '../publications.ts';

const { tableII1995, tableII2014 } = PUBLICATIONS;

/** Properties of the water as it is: nothing added, kept cool. */
function property(
  said: Publication,
  volumeMl: number,
  keptFor: ReturnType<typeof days>,
): Omit<AnalyteGroup, 'id' | 'title' | 'methods'> {
  return {
    container: bottle(said, volumeMl),
    preservation: nothingAdded(said),
    cooling: cool(tableII2014),
    filtration: filteredAsPlanned(),
    holding: [prescribed(said, toAnalysis(keptFor))],
    filling: filledBottle('physical', volumeMl),
    shortWater: ifShort('physical', 100),
  };
}

export const dissolvedSolids: AnalyteGroup = {
  ...property(tableII1995, 250, days(7)),
  id: 'dissolved-solids',
  title: 'Dissolved solids',
  methods: ['SM 2540 C'],
};

export const suspendedSolids: AnalyteGroup = {
  ...property(tableII1995, 1_000, days(7)),
  id: 'suspended-solids',
  title: 'Suspended solids',
  methods: ['SM 2540 D'],
  filtration: unfiltered(),
};

export const colour: AnalyteGroup = {
  ...property(tableII2014, 250, hours(48)),
  id: 'colour',
  title: 'Colour',
  methods: ['SM 2120'],
};

export const laboratoryConductance: AnalyteGroup = {
  ...property(tableII1995, 125, days(28)),
  id: 'specific-conductance-laboratory',
  title: 'Specific conductance, in the laboratory',
  methods: ['EPA 120.1'],
  shortWater: ifShort('physical', 50),
};

export const laboratoryTurbidity: AnalyteGroup = {
  ...property(tableII1995, 125, hours(48)),
  id: 'turbidity-laboratory',
  title: 'Turbidity, in the laboratory',
  methods: ['EPA 180.1'],
  filtration: unfiltered(),
  shortWater: ifShort('physical', 50),
};
