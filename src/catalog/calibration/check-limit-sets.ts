import type { Figure } from '../criteria-set.ts';
import type { CheckLimit, CheckLimitSet, CheckTolerance } from './check-limit-set.ts';
import { epaRegion1FieldCalibration } from './limits/epa-region-1-field-calibration.ts';
import { epaRegion4FieldMeasurement } from './limits/epa-region-4-field-measurement.ts';
import { floridaFieldTesting } from './limits/florida-field-testing.ts';
import { usgsFieldManual } from './limits/usgs-field-manual.ts';

export const CHECK_LIMIT_SET_IDS = [
  'epa-region-1-field-calibration',
  'epa-region-4-field-measurement',
  'florida-field-testing',
  'usgs-field-manual',
] as const;
export type CheckLimitSetId = (typeof CHECK_LIMIT_SET_IDS)[number];

/** Every set of limits for calibration checks. A set is never taken out or changed: records of the past cite it. */
export const CHECK_LIMIT_SETS: Readonly<Record<CheckLimitSetId, CheckLimitSet>> = {
  'epa-region-1-field-calibration': epaRegion1FieldCalibration,
  'epa-region-4-field-measurement': epaRegion4FieldMeasurement,
  'florida-field-testing': floridaFieldTesting,
  'usgs-field-manual': usgsFieldManual,
};

function figuresOfTolerance(tolerance: CheckTolerance): readonly (Figure | undefined)[] {
  if (tolerance.rule === 'between') return [tolerance.least, tolerance.most];
  if (tolerance.rule === 'greater-of') return [tolerance.percent, tolerance.absolute];
  return [tolerance.within, tolerance.rule === 'absolute' ? tolerance.stricter?.figure : undefined];
}

/** Every number of a limit, with how we come by it. */
export function figuresOfLimit(limit: CheckLimit): readonly Figure[] {
  const figures = [limit.from, limit.to, limit.above, ...figuresOfTolerance(limit.tolerance)];
  return figures.filter((figure) => figure !== undefined);
}
