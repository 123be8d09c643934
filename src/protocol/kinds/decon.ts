import { z } from 'zod';
import { CONTAMINANT_CLASSES } from '../../catalog/decon/decon-protocol.ts';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const decon = defineKind({
  name: 'decon',
  plural: 'decons',
  family: 'fact',
  description:
    'A unit was cleaned by a protocol. Its steps are records of their own; it makes the unit clean once they are complete.',
  home: { in: 'parent', field: 'unit', corrected: true },
  references: { unit: 'unit', event: 'event' },
  writers: FIELD,
  fields: {
    unit: id,
    protocol: text(64).describe('Id of a protocol of the catalog; by one that it does not hold nothing gets clean'),
    event: maybe(id).describe('The event whose plan it follows'),
    against: maybe(z.array(z.enum(CONTAMINANT_CLASSES)).max(CONTAMINANT_CLASSES.length)).describe(
      'What it is to take away. Default: what its protocol is made for',
    ),
    began: instant,
    ended: maybe(instant).describe('Missing while it goes on'),
    wasteTo: maybe(text(64)).describe('Label of the drum that took the water'),
    labelText: maybe(text(LONG_TEXT)).describe('What was written on the label of the cleaned unit'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
