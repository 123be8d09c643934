import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const USES = ['down-the-well', 'on-the-line', 'beside-the-well'] as const;
export type HowUsed = (typeof USES)[number];

export const unitUse = defineKind({
  name: 'unit-use',
  plural: 'unit-uses',
  family: 'fact',
  description: 'A unit was at a well, and how it touched the water: in the well, on the line, or not at all.',
  home: { in: 'parent', field: 'visit', corrected: true },
  references: { visit: 'visit', unit: 'unit' },
  writers: FIELD,
  fields: {
    visit: id,
    unit: id,
    how: z.enum(USES).describe('A pump goes down the well, a flow cell is on the line, a compressor stands beside it'),
    from: instant,
    until: maybe(instant).describe('Missing while it is there'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
