import { z } from 'zod';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { LONG_TEXT, text } from '../primitives.ts';

function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

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
    timeZone: z.string().max(64).refine(isTimeZone, { error: 'is not an IANA time zone such as America/Chicago' }),
    accessNotes: maybe(text(LONG_TEXT)).describe('Gates, keys, traffic; the site safety plan decides'),
  },
});
