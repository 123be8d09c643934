import { defineKind, FIELD, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const purge = defineKind({
  name: 'purge',
  plural: 'purges',
  family: 'fact',
  description: 'The pumping of a well before its samples; two phones and a relief crew write into the same one.',
  home: { in: 'parent', field: 'visit' },
  references: { visit: 'visit' },
  writers: FIELD,
  fields: {
    visit: id,
    began: instant.describe('First water drawn'),
    ended: maybe(instant),
    remark: maybe(text(LONG_TEXT)),
  },
});
