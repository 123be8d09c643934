import { defineKind } from '../kind.ts';
import { text } from '../primitives.ts';

export const firm = defineKind({
  name: 'firm',
  plural: 'firms',
  family: 'fact',
  description: 'The environmental firm whose crews sample; its id is the id of the firm itself.',
  home: { in: 'firm' },
  references: {},
  writers: ['admin'],
  fields: { name: text() },
});
