import type { CalibrationPlan } from '../../protocol/calibration-plan.ts';
import { assessCheck, type CheckResult } from '../../rules/calibration/assess-check.ts';
import { type CalibrationAsked, calibrationAsked } from '../../rules/calibration/calibration-asked.ts';
import { clockCorrection } from '../../rules/clock-correction.ts';
import { live } from '../../rules/equipment/by-key.ts';
import { correctedInstant } from '../../rules/equipment/decon-by-clock.ts';
import { failureOf } from '../../rules/equipment/failed-check.ts';
import { meterCheck, meterChecks } from '../../rules/equipment/meters/meter-check.ts';
import { type MeterUsable, type MeterUsableGiven, meterUsable } from '../../rules/meter-told/meter-usable.ts';
import type { EquipmentHere } from './equipment-here.ts';
import { unitHere } from './unit-here.ts';

export interface MeterAskedHere extends Pick<MeterUsableGiven, 'parameter'> {
  readonly meter: string;
  /** By whose plan. */
  readonly event: string;
  /** By the clock of the device. */
  readonly now: string;
}

/** Null where the plan of the event names no limits, or the event is not here. */
function askedBy({ device }: EquipmentHere, event: string): CalibrationAsked | null {
  const plan = device.world.get(event)?.state.fields.plan as { calibration?: CalibrationPlan | null } | undefined;
  return plan?.calibration ? calibrationAsked(plan.calibration) : null;
}

function servicesOf({ records }: EquipmentHere, unit: string) {
  return live(records.services).filter(({ fields }) => fields.unit === unit);
}

/**
 * May this meter be used now, sensor by sensor, from its checks that are on this device: of the same records the same
 * answer as GET /v1/units/ID/may-be-used. Null for a unit that is not here.
 */
export function meterHere(all: EquipmentHere, { meter, event, now, parameter }: MeterAskedHere): MeterUsable | null {
  const unit = all.facts.index.units.get(meter);
  if (!unit) return null;
  const { state } = unitHere(all, meter);
  return meterUsable({
    unit,
    checks: meterChecks(all.records.checks).get(meter) ?? [],
    // the checks stand where a right clock would have put them, and so must now
    at: correctedInstant({ at: now, addMs: clockCorrection(all.device.clock).addMs }),
    event,
    asked: askedBy(all, event),
    outOfService: state?.state === 'out-of-service' ? state.sentence : null,
    failedCheck: failureOf(unit.fields.label, servicesOf(all, meter)),
    parameter,
  });
}

/** What one check says by the limits of the plan; null where these are not known, or the check set the meter. */
export function checkHere(all: EquipmentHere, check: string, event: string): CheckResult | null {
  const record = live(all.records.checks).find(({ id }) => id === check);
  const asked = askedBy(all, event);
  if (!record || !asked || record.fields.act === 'calibrated') return null;
  return assessCheck(asked.set, meterCheck(record).check, asked.options);
}
