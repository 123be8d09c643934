import { z } from 'zod';
import { defineKind, maybe } from '../kind.ts';
import { id, text } from '../primitives.ts';

export const resolution = defineKind({
  name: 'resolution',
  plural: 'resolutions',
  family: 'observation',
  description: 'A person decided a conflict: which value stands, and why. Made by the verb `resolve`.',
  home: { in: 'parent', field: 'subject' },
  references: {},
  writers: [],
  fields: {
    conflict: id,
    subject: id,
    value: z.unknown().describe('The value that stands; missing for a clash of claims'),
    over: z.array(z.unknown()).describe('The values that it was chosen over'),
    reason: maybe(text(1_000)),
  },
});
