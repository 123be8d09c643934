import { z } from 'zod';
import { defineKind, maybe } from '../kind.ts';
import { id, text } from '../primitives.ts';

const rival = z.strictObject({
  value: z.unknown().describe('The value of the field, or what the rival record claims'),
  record: maybe(id).describe('The rival record, where the clash is between two records'),
  by: maybe(id),
  client: maybe(id),
  mutation: maybe(z.int()),
});

export const conflict = defineKind({
  name: 'conflict',
  plural: 'conflicts',
  family: 'derived',
  description: 'Two people changed or claimed the same thing without knowing of each other; both values are kept.',
  home: { in: 'parent', field: 'subject' },
  references: {},
  writers: [],
  fields: {
    subjectKind: text(64),
    subject: id,
    type: z.enum(['field', 'void', 'well-claim', 'sign-out']),
    field: maybe(text(64)),
    sentence: text(1_000),
    certainty: z.enum(['certain', 'possible']).describe('Possible: within the uncertainty of the clocks'),
    shown: rival,
    kept: z.array(rival),
    standing: z.enum(['open', 'resolved']),
    resolution: maybe(id),
  },
});
