import { live } from '../../rules/equipment/by-key.ts';
import type { UnitRecord } from '../../rules/equipment/equipment-records.ts';
import { type TimelineEntry, unitTimeline } from '../../rules/equipment/unit-timeline.ts';
import type { EquipmentHere } from './equipment-here.ts';
import { type EquipmentLimit, limitsOfUnit } from './equipment-limits.ts';
import { signedOut, type WithCrew } from './signed-out.ts';
import { type UnitHere, unitHere } from './unit-here.ts';

export interface UnitWithState {
  readonly unit: UnitRecord;
  readonly here: UnitHere;
  /** With which crews it is by the records; none: nobody has signed it out. */
  readonly with: readonly WithCrew[];
}

/** Every unit of the firm, by its label: where it stands, and who has it. */
export function unitsHere(all: EquipmentHere): readonly UnitWithState[] {
  const out = signedOut(all.records.signOuts);
  return live(all.records.units)
    .map((unit) => ({ unit, here: unitHere(all, unit.id), with: out.filter((one) => one.unit === unit.id) }))
    .toSorted((a, b) => a.unit.fields.label.localeCompare(b.unit.fields.label, 'en', { numeric: true }));
}

/** Those that a crew has signed out. */
export function unitsOfCrew(all: EquipmentHere, crew: string): readonly UnitWithState[] {
  return unitsHere(all).filter((one) => one.with.some((out) => out.crew === crew));
}

export interface TimelineHere {
  readonly entries: readonly TimelineEntry[];
  readonly limits: readonly EquipmentLimit[];
}

/** What this device knows of the life of a unit, and what it cannot know. */
export function timelineHere(all: EquipmentHere, unit: string): TimelineHere {
  return { entries: unitTimeline(all.facts.index, unit), limits: limitsOfUnit(all, unitHere(all, unit)) };
}
