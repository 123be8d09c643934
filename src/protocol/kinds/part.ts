import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { date, decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const PART_TYPES = [
  'bladder',
  'tubing',
  'o-ring-set',
  'check-valve',
  'filter',
  'grip',
  'support-line',
  'hose',
  'other',
] as const;
export type PartType = (typeof PART_TYPES)[number];

export const part = defineKind({
  name: 'part',
  plural: 'parts',
  family: 'fact',
  description: 'A part that is used up: a bladder, a length of tubing, a filter. It goes into a unit and is discarded.',
  home: { in: 'firm' },
  references: { dedicatedTo: 'well' },
  writers: FIELD,
  fields: {
    type: z.enum(PART_TYPES),
    label: maybe(text(64)).describe('As written on it or on its bag'),
    lot: maybe(text(64)).describe('As printed on the bag'),
    material: maybe(text(64)),
    lengthFt: maybe(decimal).describe('Of tubing, hose or support line'),
    received: maybe(date),
    dedicatedTo: maybe(id).describe('The well that it is kept for'),
    remark: maybe(text(LONG_TEXT)),
  },
});
