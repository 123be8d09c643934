import type { CalibrationCheck, CheckStandard } from '../../../src/rules/calibration/check.ts';

/** A check at an hour of one day, such as '07:35'. */
export function check(
  at: string,
  parameter: CalibrationCheck['parameter'],
  reading: string | undefined,
  standard: CheckStandard,
  more: Partial<CalibrationCheck> = {},
): CalibrationCheck {
  return {
    id: `${parameter} ${at} ${standard.nominal ?? ''}`,
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
