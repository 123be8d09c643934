import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, LONG_TEXT, text } from '../primitives.ts';

export const deconStep = defineKind({
  name: 'decon-step',
  plural: 'decon-steps',
  family: 'observation',
  description: 'A step of a protocol was done, or left out: with what, when, and why where it was done otherwise.',
  home: { in: 'parent', field: 'decon' },
  references: { decon: 'decon', part: 'part' },
  writers: FIELD,
  fields: {
    decon: id,
    step: text(64).describe('Id of the step in its protocol'),
    done: z.boolean().describe('False: it was left out'),
    fluid: maybe(text()).describe('With what, as the crew calls it'),
    lot: maybe(text(64)).describe('Of the fluid'),
    // the reason of a correction goes by the name `reason` beside the fields of every kind
    deviation: maybe(text(LONG_TEXT)).describe(
      'Why it was left out or done otherwise; without it the decon is incomplete',
    ),
    part: maybe(id).describe('The new part that was put in, at a step that asks for one'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
