import { defineKind, maybe, OFFICE } from '../kind.ts';
import { LONG_TEXT, text } from '../primitives.ts';
import { timeZone } from '../time-zone.ts';

export const site = defineKind({
  name: 'site',
  plural: 'sites',
  family: 'fact',
  description: 'A place with monitoring wells; its time zone is the one of labels and custody.',
  home: { in: 'own', prefix: 'site' },
  references: {},
  writers: OFFICE,
  fields: {
    name: text(),
    timeZone,
    accessNotes: maybe(text(LONG_TEXT)).describe('Gates, keys, traffic; the site safety plan decides'),
  },
});
