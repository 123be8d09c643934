import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, instant } from '../primitives.ts';

export const wellClaim = defineKind({
  name: 'well-claim',
  plural: 'well-claims',
  family: 'claim',
  description: 'A crew takes a well of an event to work on, with the pump that it brings.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', well: 'well', crew: 'crew', pump: 'unit', handedOverFrom: 'well-claim' },
  writers: FIELD,
  fields: {
    event: id,
    well: id,
    crew: id,
    pump: maybe(id),
    handedOverFrom: maybe(id).describe('The claim that this crew relieves: one purge in parts, no rivalry'),
    from: instant,
    until: maybe(instant),
    observed,
  },
});
