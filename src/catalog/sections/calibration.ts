import { CHECK_LIMIT_SETS } from '../calibration/check-limit-sets.ts';
import { DRIFT_LIMITS, ORP_SOLUTION_WITHIN_C } from '../calibration/drift-limits.ts';
import { PH_SLOPE_LIMITS } from '../calibration/ph-slope-limits.ts';
import { type CatalogSection, catalogItem } from '../catalog-section.ts';

export const CHECK_LIMIT_SECTION: CatalogSection = {
  name: 'calibration-limits',
  title: 'Limits of calibration checks',
  description: 'How far a meter may be from its standard, as each edition of each document gives it.',
  items: Object.values(CHECK_LIMIT_SETS).map((set) => catalogItem(set, { name: `${set.document}, ${set.edition}` })),
};

export const METER_RULE_SECTION: CatalogSection = {
  name: 'meter-rules',
  title: 'Slope, drift and temperature of a check',
  description: 'Which share of the Nernst slope an electrode may have, how far a meter may drift, how warm a solution.',
  items: [
    ...PH_SLOPE_LIMITS.map((limit) =>
      catalogItem(limit, { id: `ph-slope-${limit.id}`, name: 'Slope of a pH electrode' }),
    ),
    ...DRIFT_LIMITS.map((limit) =>
      catalogItem(limit, { id: `drift-${limit.parameter}`, name: `Drift between two checks: ${limit.parameter}` }),
    ),
    catalogItem(ORP_SOLUTION_WITHIN_C, {
      id: 'orp-solution-temperature',
      name: 'Temperature of the ORP solution against that of the groundwater, in °C',
    }),
  ],
};
