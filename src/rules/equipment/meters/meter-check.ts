import type { CalibrationCheck } from '../../calibration/check.ts';
import { byKey, live } from '../by-key.ts';
import type { CheckRecord } from '../equipment-records.ts';
import { type Moment, momentOf } from '../moment.ts';

/** A check or a calibration of a meter, placed among what other devices recorded. */
export interface MeterCheck {
  readonly record: CheckRecord;
  readonly moment: Moment;
  /** As the rules of calibration take it. */
  readonly check: CalibrationCheck;
}

export function meterCheck(record: CheckRecord): MeterCheck {
  const { unit, parameter, act, part, reading, turbidityUnit, observed, standardLot, standardExpires, ...standard } =
    record.fields;
  const moment = momentOf(record, observed.at, observed);
  const known = Object.fromEntries(Object.entries(standard).filter(([, value]) => value != null));
  return {
    record,
    moment,
    check: {
      id: record.id,
      meter: unit,
      parameter,
      act,
      part,
      at: observed.at,
      ms: moment.ms,
      reading: reading ?? undefined,
      turbidityUnit: turbidityUnit ?? undefined,
      standard: known,
    },
  };
}

/** What stands, under its meter. */
export function meterChecks(checks: readonly CheckRecord[] | undefined): ReadonlyMap<string, readonly MeterCheck[]> {
  return byKey(live(checks).map(meterCheck), ({ check }) => check.meter);
}
