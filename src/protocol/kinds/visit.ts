import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const VISIT_OUTCOMES = [
  'sampled',
  'gauged-only',
  'dry',
  'purged-dry',
  'insufficient-water',
  'not-stable',
  'obstructed',
  'frozen',
  'no-access',
  'abandoned',
] as const;

export const visit = defineKind({
  name: 'visit',
  plural: 'visits',
  family: 'fact',
  description: 'One stop of a crew at one well: everything measured there hangs on it and moves with it.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', well: 'well', crew: 'crew' },
  writers: FIELD,
  fields: {
    event: id,
    well: id,
    crew: id,
    method: z.enum(['low-flow', 'volume', 'dry-well', 'passive', 'flowing', 'gauging']),
    arrived: instant,
    left: maybe(instant),
    outcome: maybe(z.enum(VISIT_OUTCOMES)).describe('How the visit ended; missing while it goes on'),
    outcomeReason: maybe(text(LONG_TEXT)),
  },
});
