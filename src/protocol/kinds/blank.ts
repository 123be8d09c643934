import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const BLANK_TYPES = ['equipment', 'field', 'trip', 'temperature'] as const;

export const blank = defineKind({
  name: 'blank',
  plural: 'blanks',
  family: 'fact',
  description: 'Clean water that went the way of a sample, so that what was brought in shows: an equipment blank, say.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', unit: 'unit', decon: 'decon', planned: 'planned-sample', laboratory: 'laboratory' },
  writers: FIELD,
  fields: {
    event: id,
    type: z.enum(BLANK_TYPES).describe('Equipment: poured over or pumped through a cleaned unit'),
    number: text(64).describe('As on its bottles'),
    unit: maybe(id).describe('Over or through which it was taken'),
    decon: maybe(id).describe('The decon that it is to prove'),
    collected: instant,
    waterLot: maybe(text(64)).describe('Of the water that it was made of'),
    suites: z.array(text(64)).max(40).describe('Analyte suites; none for a temperature blank'),
    planned: maybe(id).describe('The planned sample that it is'),
    laboratory: maybe(id).describe('Where it goes. Default: as planned'),
    laboratoryNumber: maybe(text(64)).describe(
      'Its number as told to the laboratory. Default: as planned, else its own',
    ),
    remark: maybe(text(LONG_TEXT)),
  },
});
