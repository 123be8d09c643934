import { z } from 'zod';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { decimal, id, text } from '../primitives.ts';

export const UNIT_TYPES = [
  'bladder-pump',
  'submersible-pump',
  'peristaltic-pump',
  'pump-controller',
  'compressor',
  'multi-parameter-meter',
  'turbidity-meter',
  'flow-cell',
  'water-level-tape',
  'regulator',
  'tubing',
  'fitting',
  'gas-cylinder',
  'battery',
  'other',
] as const;

/** Disposable gear goes into one well and is thrown away. */
export const UNIT_SHARING = ['shared', 'dedicated', 'disposable'] as const;

export const unit = defineKind({
  name: 'unit',
  plural: 'units',
  family: 'fact',
  description: 'A piece of equipment with a serial: what it is, what of it touches water, whether crews share it.',
  home: { in: 'firm' },
  references: { dedicatedTo: 'well' },
  writers: OFFICE,
  fields: {
    type: z.enum(UNIT_TYPES),
    label: text(64).describe('As painted on it'),
    serial: maybe(text(64)),
    use: z.enum(UNIT_SHARING),
    dedicatedTo: maybe(id),
    ownership: z.enum(['owned', 'rented']),
    wettedParts: maybe(z.array(z.strictObject({ part: text(64), material: text(64) })).max(40)),
    flowCellVolumeMl: maybe(decimal).describe('Of the flow cell, or of the cell that a meter is built into'),
    outsideDiameterIn: maybe(decimal).describe('Of what goes down the casing, at its widest'),
    maximumDepthFt: maybe(decimal).describe('Greatest depth that a pump is rated for'),
    maximumPressurePsi: maybe(decimal).describe('Maximum rating as marked; of a regulator that of its outlet side'),
    insideVolumeMl: maybe(decimal).describe('Water in a pump; of a bladder pump its chamber, the most of one stroke'),
    tankVolumeL: maybe(decimal).describe('Water volume of a gas cylinder or tank'),
    batteryCapacityAh: maybe(decimal).describe('As marked, in ampere hours'),
  },
});
