import { defineKind, maybe, OFFICE } from '../kind.ts';
import { id, text } from '../primitives.ts';

export const device = defineKind({
  name: 'device',
  plural: 'devices',
  family: 'fact',
  description: 'A phone, tablet or office computer of the firm. Its token is kept apart and never travels in a feed.',
  home: { in: 'firm' },
  references: { crew: 'crew', person: 'member' },
  writers: OFFICE,
  fields: {
    label: text(),
    crew: maybe(id).describe('The crew that carries it'),
    person: maybe(id).describe('The member at the device now'),
  },
});
