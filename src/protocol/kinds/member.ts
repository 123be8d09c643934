import { z } from 'zod';
import { defineKind, OFFICE } from '../kind.ts';
import { text } from '../primitives.ts';

export const member = defineKind({
  name: 'member',
  plural: 'members',
  family: 'fact',
  description: 'A person of the firm: reads instruments, types, signs.',
  home: { in: 'firm' },
  references: {},
  writers: OFFICE,
  fields: {
    name: text(),
    initials: text(8).describe('As written on a field sheet'),
    standing: z.enum(['active', 'left']),
  },
});
