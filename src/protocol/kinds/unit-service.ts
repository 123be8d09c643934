import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { date, decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const SERVICE_TYPES = [
  'arrived',
  'inspected',
  'serviced',
  'length-checked',
  'out-of-service',
  'back-in-service',
  'returned',
] as const;

export const unitService = defineKind({
  name: 'unit-service',
  plural: 'unit-services',
  family: 'observation',
  description:
    'A unit arrived, was inspected or serviced, went out of service or came back. A rented unit arrives unknown.',
  home: { in: 'parent', field: 'unit' },
  references: { unit: 'unit' },
  writers: FIELD,
  fields: {
    unit: id,
    type: z.enum(SERVICE_TYPES),
    result: maybe(z.enum(['pass', 'fail'])),
    dueNext: maybe(date).describe('When the same is due again'),
    correctionFt: maybe(decimal).describe('Of a tape whose length was checked: to be added to what it shows'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
