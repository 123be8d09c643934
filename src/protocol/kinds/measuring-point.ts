import { z } from 'zod';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { decimal, id, instant, text } from '../primitives.ts';

export const measuringPoint = defineKind({
  name: 'measuring-point',
  plural: 'measuring-points',
  family: 'fact',
  description: 'The mark on a well from which depths are measured, valid from a date, with the reason of the change.',
  home: { in: 'parent', field: 'well' },
  references: { well: 'well' },
  writers: OFFICE,
  fields: {
    well: id,
    description: text().describe('Such as: notch on the north side of the casing rim'),
    elevationFt: maybe(decimal),
    datum: maybe(text(64)).describe('Vertical datum of the elevation'),
    validFrom: instant,
    change: z
      .enum(['first', 'error-corrected', 'casing-changed'])
      .describe('A corrected error applies back to the point before it, a changed casing only forward'),
  },
});
