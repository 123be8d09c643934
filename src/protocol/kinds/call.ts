import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, LONG_TEXT, text } from '../primitives.ts';

/** After a limit without stability these are the choices: keep purging, stop without a sample, stop and sample. */
export const CALL_DECISIONS = [
  'stable',
  'not-stable-sampled',
  'not-stable-stopped',
  'purging-continued',
  'purged-dry',
] as const;

export const call = defineKind({
  name: 'call',
  plural: 'calls',
  family: 'observation',
  description: 'The stabilization call: what the person at the well decided, when, and what was shown then.',
  home: { in: 'parent', field: 'purge' },
  references: { purge: 'purge' },
  writers: FIELD,
  fields: {
    purge: id,
    decision: z.enum(CALL_DECISIONS),
    shown: maybe(
      z.strictObject({
        stable: z.boolean().describe('What the phone showed at the call'),
        criteria: maybe(text(64)).describe('The criteria set that it used'),
        window: maybe(z.array(id).max(20)).describe('The readings in the window that it showed'),
      }),
    ),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
