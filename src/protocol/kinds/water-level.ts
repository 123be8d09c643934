import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const waterLevel = defineKind({
  name: 'water-level',
  plural: 'water-levels',
  family: 'observation',
  description: 'The depth to water in a well, with what it was measured for and what was found.',
  home: { in: 'parent', field: 'visit' },
  references: { visit: 'visit', tape: 'unit', measuringPoint: 'measuring-point' },
  writers: FIELD,
  fields: {
    visit: id,
    purpose: z.enum(['synoptic', 'before-purge', 'pumping', 'recovery', 'final']),
    state: z.enum(['measured', 'dry', 'flowing', 'frozen', 'obstructed']),
    depthToWaterFt: maybe(decimal).describe('Below the measuring point; negative above it'),
    measuringPoint: maybe(id),
    tape: maybe(id),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
