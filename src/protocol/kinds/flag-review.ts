import { z } from 'zod';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, LONG_TEXT, text } from '../primitives.ts';

export const flagReview = defineKind({
  name: 'flag-review',
  plural: 'flag-reviews',
  family: 'observation',
  description: 'A person looked at a flag and its evidence; new evidence raises the flag again.',
  home: { in: 'parent', field: 'flag' },
  references: { flag: 'flag' },
  writers: OFFICE,
  fields: {
    flag: id,
    evidenceHash: z.string().regex(/^[0-9a-f]{16}$/, { error: 'is not the evidenceHash of a flag (16 hex digits)' }),
    decision: z.enum(['no-action', 'acted-on']),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
