import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, LONG_TEXT, text } from '../primitives.ts';

export const PART_ACTIONS = ['installed', 'removed', 'discarded', 'kept-for-well'] as const;

export const partChange = defineKind({
  name: 'part-change',
  plural: 'part-changes',
  family: 'observation',
  description: 'A part was put into a unit, taken out of it, thrown away, or kept for the well that it was used in.',
  home: { in: 'parent', field: 'unit' },
  references: { unit: 'unit', part: 'part', well: 'well' },
  writers: FIELD,
  fields: {
    unit: id,
    part: id,
    action: z.enum(PART_ACTIONS),
    well: maybe(id).describe('For which it is kept'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
