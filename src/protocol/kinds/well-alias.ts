import { defineKind, maybe, OFFICE } from '../kind.ts';
import { date, id, text } from '../primitives.ts';

export const wellAlias = defineKind({
  name: 'well-alias',
  plural: 'well-aliases',
  family: 'fact',
  description: 'Another name under which a well is known, on old tags, at an agency or at a laboratory.',
  home: { in: 'parent', field: 'well' },
  references: { well: 'well' },
  writers: OFFICE,
  fields: { well: id, name: text(64), usedBy: maybe(text()), from: maybe(date), until: maybe(date) },
});
