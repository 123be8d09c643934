import { gearOfUnit, waterContact } from '../decon/gear-of-unit.ts';
import type { Contact } from './contact.ts';
import type { UnitRecord } from './equipment-records.ts';

/** Of a unit that is not known nobody can say that it stays dry. */
export function isDry(unit: UnitRecord | undefined): boolean {
  return unit !== undefined && waterContact(unit.fields.type) === 'dry';
}

/** A pump whose inside the sample passes: what a rinsate is taken through. */
export function isDownholePump(unit: UnitRecord | undefined): boolean {
  const gear = unit ? gearOfUnit(unit.fields.type) : null;
  return gear === 'bladder-pump' || gear === 'downhole-pump';
}

/** Dedicated gear carries nothing to another well while it stays in its own. */
export function isOwnWell(contact: Contact, unit: UnitRecord | undefined): boolean {
  return unit?.fields.use === 'dedicated' && unit.fields.dedicatedTo === contact.well;
}

export function unitName(unit: UnitRecord | undefined, id: string): string {
  return unit?.fields.label ?? id;
}
