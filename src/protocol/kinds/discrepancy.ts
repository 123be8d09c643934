import { z } from 'zod';
import { defineKind, FIELD_AND_LABORATORY, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const RAISED_ON = ['field', 'laboratory'] as const;
export const DECIDES = ['coordinator', 'laboratory'] as const;

export const discrepancy = defineKind({
  name: 'discrepancy',
  plural: 'discrepancies',
  family: 'fact',
  description: 'What was sent and what was received do not agree: an open item until whoever may decide has decided.',
  home: { in: 'parent', field: 'event' },
  references: {
    event: 'event',
    container: 'container',
    sample: 'sample',
    cooler: 'cooler',
    receipt: 'sample-receipt',
    laboratory: 'laboratory',
  },
  writers: FIELD_AND_LABORATORY,
  fields: {
    event: id,
    container: maybe(id).describe('What it is about, where that is known'),
    sample: maybe(id),
    cooler: maybe(id),
    receipt: maybe(id).describe('The receipt that showed it'),
    laboratory: maybe(id).describe('On whose side it is an open item. Default: where its cooler goes'),
    label: maybe(text(64)).describe('Text on a label that nothing is known under'),
    type: text(64).describe('What does not agree, as a code in plain words such as not-received or count-differs'),
    detail: text(LONG_TEXT),
    raisedOn: z.enum(RAISED_ON).describe('On which side it was noticed'),
    decides: z.enum(DECIDES).describe('Who may decide it'),
    decideBy: maybe(instant).describe('Until when a decision is of use'),
    standing: z.enum(['open', 'decided']),
    decision: maybe(text(LONG_TEXT)),
    decidedBy: maybe(text()),
    decidedAt: maybe(instant),
    remark: maybe(text(LONG_TEXT)),
  },
});
