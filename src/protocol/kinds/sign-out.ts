import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, instant } from '../primitives.ts';

export const signOut = defineKind({
  name: 'sign-out',
  plural: 'sign-outs',
  family: 'claim',
  description: 'A crew takes a unit; it ends when the unit comes back or is handed on.',
  home: { in: 'firm' },
  references: { unit: 'unit', crew: 'crew', event: 'event' },
  writers: FIELD,
  fields: { unit: id, crew: id, event: maybe(id), from: instant, until: maybe(instant), observed },
});
