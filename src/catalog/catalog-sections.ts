import type { CatalogSection } from './catalog-section.ts';
import { CHECK_LIMIT_SECTION, METER_RULE_SECTION } from './sections/calibration.ts';
import { CRITERIA_SECTION, NOT_USABLE_SECTION, PARAMETER_SECTION } from './sections/criteria.ts';
import {
  BLANK_RULE_SECTION,
  DECON_FLUID_SECTION,
  DECON_NOT_USABLE_SECTION,
  DECON_PROTOCOL_SECTION,
  DECON_RULE_SECTION,
} from './sections/decon.ts';
import { DRAWDOWN_RULE_SECTION, LOW_YIELD_SECTION, PUMPING_RATE_SECTION } from './sections/pumped-well.ts';
import { MATERIAL_SECTION, PUMP_SECTION, SET_UP_SECTION, SUITE_SECTION } from './sections/pumps.ts';
import { BUFFER_SECTION, CONDUCTIVITY_SECTION, ORP_SECTION } from './sections/standards.ts';
import { CASING_SECTION, INTAKE_SECTION, LEVEL_SECTION, RECOVERY_SECTION } from './sections/well.ts';

/** The whole catalog, as it is shown to people: every figure that answers rest on, in the order of the work. */
export const CATALOG_SECTIONS: readonly CatalogSection[] = [
  PARAMETER_SECTION,
  CRITERIA_SECTION,
  NOT_USABLE_SECTION,
  CHECK_LIMIT_SECTION,
  METER_RULE_SECTION,
  BUFFER_SECTION,
  CONDUCTIVITY_SECTION,
  ORP_SECTION,
  LEVEL_SECTION,
  CASING_SECTION,
  INTAKE_SECTION,
  PUMP_SECTION,
  SET_UP_SECTION,
  MATERIAL_SECTION,
  SUITE_SECTION,
  DRAWDOWN_RULE_SECTION,
  PUMPING_RATE_SECTION,
  LOW_YIELD_SECTION,
  RECOVERY_SECTION,
  DECON_PROTOCOL_SECTION,
  DECON_FLUID_SECTION,
  DECON_RULE_SECTION,
  DECON_NOT_USABLE_SECTION,
  BLANK_RULE_SECTION,
];

const BY_NAME: ReadonlyMap<string, CatalogSection> = new Map(
  CATALOG_SECTIONS.map((section) => [section.name, section]),
);

export function catalogSection(name: string): CatalogSection | undefined {
  return BY_NAME.get(name);
}
