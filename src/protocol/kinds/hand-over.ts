import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const HAND_OVER_SIDES = ['relinquished', 'received'] as const;

export const handOver = defineKind({
  name: 'hand-over',
  plural: 'hand-overs',
  family: 'claim',
  description: 'One side of a change of custody of a cooler: somebody relinquished it, or received it.',
  home: { in: 'parent', field: 'cooler' },
  references: { cooler: 'cooler' },
  writers: FIELD,
  fields: {
    cooler: id,
    side: z.enum(HAND_OVER_SIDES),
    at: instant.describe('As signed'),
    name: text().describe('Who signed'),
    organization: maybe(text()),
    to: maybe(text()).describe('To whom it is relinquished: a person, a carrier, a locked room'),
    place: maybe(text()),
    // what a correction is made for is called `reason` in every kind
    purpose: maybe(text()).describe('Why custody changes: transport, analysis, storage'),
    number: maybe(z.int().min(1).max(1_000)).describe('The same for both sides of one change. Default: paired by time'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
