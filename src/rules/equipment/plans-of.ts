import { type CalibrationAsked, calibrationAsked } from '../calibration/calibration-asked.ts';
import { byId, live } from './by-key.ts';
import type { EquipmentPlan } from './equipment-plan.ts';
import type { EquipmentRecords } from './equipment-records.ts';

/** The plan of the event that an id names, be it of the event or of a visit; nothing is asked where it is not known. */
export type PlanOf = (id: string | null | undefined) => EquipmentPlan;

const NOTHING_ASKED: EquipmentPlan = {};

/** What the plan of each event asks of equipment. */
export function plansOf({ events }: Pick<EquipmentRecords, 'events'>): PlanOf {
  const known = byId(live(events));
  return (event) => known.get(event ?? '')?.fields.plan?.equipment ?? NOTHING_ASKED;
}

/** What the plan of an event asks of its meters; null where it names no limits. */
export type AskedOf = (event: string | null | undefined) => CalibrationAsked | null;

export function calibrationsOf({ events }: Pick<EquipmentRecords, 'events'>): AskedOf {
  const known = byId(live(events));
  const asked = new Map<string, CalibrationAsked | null>();
  return (event) => {
    const id = event ?? '';
    const plan = known.get(id)?.fields.plan?.calibration;
    const its = asked.get(id) ?? (plan ? calibrationAsked(plan) : null);
    asked.set(id, its);
    return its;
  };
}
