import type { Refusal } from '../refusal.ts';
import { differenceText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

/**
 * Elevation of the water: elevation of the measuring point less the depth to water below it, exact. A negative depth is
 * water above the point (a flowing well). Both must be of one datum and one measuring point.
 *
 * Source: definition; county file, doc 471029, page 11: 48.22 ft less 9.08 ft is 39.14 ft.
 *
 * @example groundwaterElevationFt({ measuringPointElevationFt: '48.22', depthToWaterFt: '9.08' }) // '39.14'
 */
export function groundwaterElevationFt(given: {
  readonly measuringPointElevationFt: string;
  readonly depthToWaterFt: string;
}): string | Refusal {
  return unreadable({ ...given }) ?? differenceText(given.measuringPointElevationFt, given.depthToWaterFt);
}
