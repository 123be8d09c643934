import { z } from 'zod';
import { defineKind, maybe } from '../kind.ts';
import { id, text } from '../primitives.ts';

export const SEVERITIES = ['note', 'question', 'caution', 'stop'] as const;
export const ADDRESSEES = ['now', 'tonight', 'office'] as const;

export const flag = defineKind({
  name: 'flag',
  plural: 'flags',
  family: 'derived',
  description: 'A rule of the catalog asks something about a record. Rule and subject are its identity.',
  home: { in: 'parent', field: 'subject' },
  references: {},
  writers: [],
  fields: {
    rule: text(64),
    subjectKind: text(64),
    subject: id,
    visit: maybe(id),
    well: maybe(id),
    unit: maybe(id).describe('Of a flag about equipment: the unit whose records tell it'),
    severity: z.enum(SEVERITIES),
    addressee: z.enum(ADDRESSEES).describe('Now at the well, tonight at the truck, or the office'),
    sentence: text(1_000),
    evidence: z.array(z.strictObject({ record: id, field: maybe(text(64)), shows: maybe(text(200)) })),
    evidenceHash: z.string().regex(/^[0-9a-f]{16}$/),
    standing: z.enum(['raised', 'cleared', 'reviewed']),
    review: maybe(id),
  },
});
