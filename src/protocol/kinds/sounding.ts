import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const sounding = defineKind({
  name: 'sounding',
  plural: 'soundings',
  family: 'observation',
  description: 'The depth of the bottom of a well, felt with a weighted tape.',
  home: { in: 'parent', field: 'visit' },
  references: { visit: 'visit', tape: 'unit', measuringPoint: 'measuring-point' },
  writers: FIELD,
  fields: {
    visit: id,
    depthToBottomFt: decimal.describe('Below the measuring point'),
    measuringPoint: maybe(id),
    tape: maybe(id),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
