import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const sample = defineKind({
  name: 'sample',
  plural: 'samples',
  family: 'fact',
  description: 'Water taken at a visit for the analyte suites named, under the number on its bottles.',
  home: { in: 'parent', field: 'visit' },
  references: { visit: 'visit' },
  writers: FIELD,
  fields: {
    visit: id,
    number: text(64),
    suites: z.array(text(64)).min(1).max(40),
    collected: instant.describe('First bottle of the sample, as on its label'),
    remark: maybe(text(LONG_TEXT)),
  },
});
