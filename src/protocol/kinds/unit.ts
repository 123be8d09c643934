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
  'other',
] as const;

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
    use: z.enum(['shared', 'dedicated']),
    dedicatedTo: maybe(id),
    ownership: z.enum(['owned', 'rented']),
    wettedParts: maybe(z.array(z.strictObject({ part: text(64), material: text(64) })).max(40)),
    flowCellVolumeMl: maybe(decimal).describe('Of the flow cell, or of the cell that a meter is built into'),
  },
});
