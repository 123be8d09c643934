import { defineKind, OFFICE } from '../kind.ts';
import { id, text } from '../primitives.ts';

export const nest = defineKind({
  name: 'nest',
  plural: 'nests',
  family: 'fact',
  description: 'Wells of different depth that stand side by side, so that one is easily taken for another.',
  home: { in: 'parent', field: 'site' },
  references: { site: 'site' },
  writers: OFFICE,
  fields: { site: id, name: text() },
});
