import { defineKind, OFFICE } from '../kind.ts';
import { text } from '../primitives.ts';

export const crew = defineKind({
  name: 'crew',
  plural: 'crews',
  family: 'fact',
  description: 'Two or more members who work wells together.',
  home: { in: 'firm' },
  references: {},
  writers: OFFICE,
  fields: { name: text() },
});
