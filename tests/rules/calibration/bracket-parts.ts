import { CHECK_LIMIT_SETS, type CheckLimitSetId } from '../../../src/catalog/calibration/check-limit-sets.ts';
import { type Bracketed, bracketReadings, type MeterReading } from '../../../src/rules/calibration/bracket.ts';
import type { CalibrationCheck } from '../../../src/rules/calibration/check.ts';
import { calibration, check } from './check-parts.ts';

export function sample(at: string, value: string | null, more: Partial<MeterReading> = {}): MeterReading {
  const when = `2018-09-04T${at}:00-04:00`;
  return { id: `sample ${at}`, meter: 'meter 1', parameter: 'specific-conductance', at: when, value, ...more };
}

export function bracket(
  checks: readonly CalibrationCheck[],
  readings: readonly MeterReading[],
  set: CheckLimitSetId = 'florida-field-testing',
): readonly Bracketed[] {
  return bracketReadings(CHECK_LIMIT_SETS[set], checks, readings);
}

export function one(checks: readonly CalibrationCheck[], reading: MeterReading, set?: CheckLimitSetId): Bracketed {
  const [result] = bracket(checks, [reading], set);
  if (result === undefined) throw new Error('no result');
  return result;
}

export const sc = (at: string, nominal: string, reading: string) =>
  check(at, 'specific-conductance', reading, { nominal });
export const setTo = (at: string, nominal: string) => calibration(at, 'specific-conductance', { nominal });
