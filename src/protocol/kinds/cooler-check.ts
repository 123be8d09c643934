import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const coolerCheck = defineKind({
  name: 'cooler-check',
  plural: 'cooler-checks',
  family: 'observation',
  description: 'Somebody looked after a cooler on its way or overnight: its temperature, its ice, its seals.',
  home: { in: 'parent', field: 'cooler' },
  references: { cooler: 'cooler' },
  writers: FIELD,
  fields: {
    cooler: id,
    temperatureC: maybe(decimal),
    ice: maybe(z.boolean()).describe('Whether there is ice left'),
    place: maybe(text()).describe('Where it is kept, and how it is locked'),
    sealsIntact: maybe(z.boolean()),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
