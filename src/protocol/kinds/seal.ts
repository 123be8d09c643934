import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const seal = defineKind({
  name: 'seal',
  plural: 'seals',
  family: 'claim',
  description: 'A custody seal was put on a cooler; nobody opens it without breaking that.',
  home: { in: 'parent', field: 'cooler' },
  references: { cooler: 'cooler' },
  writers: FIELD,
  fields: {
    cooler: id,
    number: text(64).describe('As printed on it'),
    applied: instant,
    // `by` stands beside the fields of every kind
    appliedBy: maybe(text()).describe('Who signed it'),
    broken: maybe(instant).describe('Missing while it is whole'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
