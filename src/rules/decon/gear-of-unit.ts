import type { DeconGear } from '../../catalog/decon/decon-protocol.ts';
import { UNIT_TYPES } from '../../protocol/kinds/unit.ts';

/** A unit by its type, or hand gear such as a bailer or a bowl, which has no serial and is no unit. */
export const DECON_UNIT_TYPES = [...UNIT_TYPES, 'hand-gear'] as const;
export type DeconUnitType = (typeof DECON_UNIT_TYPES)[number];

/**
 * How a unit touches water. Dry: no part of it does. Tubing stays with its well and is not cleaned. Unknown: the type
 * does not say, so it is treated like what goes down the well.
 */
export type WaterContact = DeconGear | 'tubing' | 'dry' | 'unknown';

const CONTACTS: Readonly<Record<DeconUnitType, WaterContact>> = {
  'bladder-pump': 'bladder-pump',
  'submersible-pump': 'downhole-pump',
  'peristaltic-pump': 'dry',
  'pump-controller': 'dry',
  compressor: 'dry',
  'multi-parameter-meter': 'meter',
  'turbidity-meter': 'meter',
  'flow-cell': 'flow-cell',
  'water-level-tape': 'tape-or-probe',
  regulator: 'dry',
  tubing: 'tubing',
  fitting: 'hand-gear',
  'gas-cylinder': 'dry',
  battery: 'dry',
  'hand-gear': 'hand-gear',
  other: 'unknown',
};

export function waterContact(type: DeconUnitType): WaterContact {
  return CONTACTS[type];
}

/** The gear whose protocols serve a unit; null where none is cleaned. */
export function gearOfUnit(type: DeconUnitType): DeconGear | null {
  const contact = waterContact(type);
  if (contact === 'dry' || contact === 'tubing') return null;
  return contact === 'unknown' ? 'hand-gear' : contact;
}

const WRITTEN: Readonly<Record<DeconGear, string>> = {
  'downhole-pump': 'a pump that goes down the well',
  'bladder-pump': 'a bladder pump',
  'tape-or-probe': 'a tape or probe',
  meter: 'a meter',
  'flow-cell': 'a flow cell',
  'hand-gear': 'hand gear',
};

export function gearWritten(gear: DeconGear): string {
  return WRITTEN[gear];
}
