import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { date, id, LONG_TEXT, text } from '../primitives.ts';

const count = z.int().min(0).max(100_000);

const item = z.strictObject({
  item: text().describe('What was looked for: bottles of a suite, a standard, gas, ice, room in the drum, keys'),
  expected: maybe(count).describe('How many were ordered or are needed'),
  found: maybe(count),
  standing: z.enum(['ok', 'short', 'missing', 'expired']),
  lot: maybe(text(64)),
  expires: maybe(date),
  remark: maybe(text(1_000)),
});

export const kitCheck = defineKind({
  name: 'kit-check',
  plural: 'kit-checks',
  family: 'observation',
  description: 'In the morning a crew went through what it takes along: what is there, short, missing or expired.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', crew: 'crew' },
  writers: FIELD,
  fields: {
    event: id,
    crew: id,
    items: z.array(item).min(1).max(200),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
