import type { AnalyteGroup } from './analyte-group.ts';
import { cyanide, sulfide } from './groups/cyanide-and-sulfide.ts';
import { dioxaneDrinkingWater, dioxaneExtracted, dioxanePurged } from './groups/dioxane.ts';
import { dissolvedGases } from './groups/dissolved-gases.ts';
import { alkalinity, bromide, chloride, fluoride, sulfate } from './groups/major-ions.ts';
import {
  boron,
  dissolvedMetals,
  hardness,
  hexavalentChromium,
  mercury,
  mercuryLowLevel,
  totalMetals,
} from './groups/metals.ts';
import {
  ammonia,
  nitrate,
  nitratePlusNitrite,
  nitrite,
  organicNitrogen,
  orthophosphate,
  oxygenDemandBiochemical,
  oxygenDemandChemical,
  totalPhosphorus,
} from './groups/nutrients.ts';
import { dissolvedOrganicCarbon, totalOrganicCarbon } from './groups/organic-carbon.ts';
import { perchlorate, perchlorateLowLevel } from './groups/perchlorate.ts';
import { pfas533, pfas1633, pfas5371 } from './groups/pfas.ts';
import {
  colour,
  dissolvedSolids,
  laboratoryConductance,
  laboratoryTurbidity,
  suspendedSolids,
} from './groups/physical.ts';
import { radionuclides } from './groups/radionuclides.ts';
import {
  aromatics,
  biphenyls,
  dieselRange,
  herbicides,
  oilAndGrease,
  pesticides,
  phenols,
  semivolatiles,
} from './groups/semivolatiles.ts';
import {
  acroleinAcrylonitrile,
  fumigants,
  gasolineRange,
  volatiles,
  volatilesUnpreserved,
} from './groups/volatiles.ts';

/** Every group of analytes. A group is never taken out or changed in its meaning: plans and records of the past cite it. */
export const ANALYTE_GROUPS: readonly AnalyteGroup[] = [
  volatiles,
  volatilesUnpreserved,
  acroleinAcrylonitrile,
  dioxaneDrinkingWater,
  dioxaneExtracted,
  dioxanePurged,
  semivolatiles,
  aromatics,
  pesticides,
  herbicides,
  biphenyls,
  gasolineRange,
  dieselRange,
  fumigants,
  totalMetals,
  dissolvedMetals,
  mercury,
  mercuryLowLevel,
  hexavalentChromium,
  cyanide,
  nitrate,
  nitrite,
  nitratePlusNitrite,
  ammonia,
  organicNitrogen,
  totalPhosphorus,
  orthophosphate,
  sulfate,
  chloride,
  bromide,
  fluoride,
  sulfide,
  alkalinity,
  dissolvedSolids,
  suspendedSolids,
  totalOrganicCarbon,
  dissolvedOrganicCarbon,
  oxygenDemandBiochemical,
  oxygenDemandChemical,
  hardness,
  boron,
  colour,
  laboratoryConductance,
  laboratoryTurbidity,
  phenols,
  oilAndGrease,
  dissolvedGases,
  perchlorate,
  perchlorateLowLevel,
  pfas1633,
  pfas5371,
  pfas533,
  radionuclides,
];

const BY_ID: ReadonlyMap<string, AnalyteGroup> = new Map(ANALYTE_GROUPS.map((group) => [group.id, group]));

/** Undefined where the catalog of this release holds no group of that name. */
export function analyteGroup(id: string): AnalyteGroup | undefined {
  return BY_ID.get(id);
}
