import { CHECK_LIMIT_SETS, type CheckLimitSetId } from '../../../src/catalog/calibration/check-limit-sets.ts';
import { assessCheck } from '../../../src/rules/calibration/assess-check.ts';
import type { CalibrationCheck, CheckStandard } from '../../../src/rules/calibration/check.ts';
import type { CheckOptions } from '../../../src/rules/calibration/deviation.ts';

/** A check at an hour of one day, such as '07:35'. */
export function check(
  at: string,
  parameter: CalibrationCheck['parameter'],
  reading: string | undefined,
  standard: CheckStandard,
  more: Partial<CalibrationCheck> = {},
): CalibrationCheck {
  return {
    id: `${parameter} ${at} ${standard.nominal ?? ''} ${more.act ?? 'checked'}`,
    meter: 'meter 1',
    parameter,
    act: 'checked',
    part: 'mid',
    at: `2018-09-04T${at}:00-04:00`,
    reading,
    standard,
    ...more,
  };
}

/** The meter set to a standard. */
export function calibration(
  at: string,
  parameter: CalibrationCheck['parameter'],
  standard: CheckStandard,
): CalibrationCheck {
  return check(at, parameter, undefined, standard, { act: 'calibrated', part: 'start' });
}

/** The result of one check at 07:35. */
export function assess(
  set: CheckLimitSetId,
  parameter: CalibrationCheck['parameter'],
  reading: string | undefined,
  standard: CheckStandard,
  options: CheckOptions = {},
  more: Partial<CalibrationCheck> = {},
) {
  return assessCheck(CHECK_LIMIT_SETS[set], check('07:35', parameter, reading, standard, more), options);
}

export const at = (valueAtTemperature: string): CheckStandard => ({ valueAtTemperature });
export const label = (nominal: string): CheckStandard => ({ nominal });
