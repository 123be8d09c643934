import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const SAMPLE_TYPES = ['normal', 'duplicate', 'blind-duplicate', 'matrix-spike', 'split', 'resample'] as const;

export const sample = defineKind({
  name: 'sample',
  plural: 'samples',
  family: 'fact',
  description: 'Water taken at a visit for the analyte suites named, under the number on its bottles.',
  home: { in: 'parent', field: 'visit' },
  references: { visit: 'visit', of: 'sample', planned: 'planned-sample', laboratory: 'laboratory' },
  writers: FIELD,
  fields: {
    visit: id,
    number: text(64),
    suites: z.array(text(64)).min(1).max(40),
    collected: instant.describe('First bottle of the sample, as on its label'),
    type: maybe(z.enum(SAMPLE_TYPES)).describe('Default: normal'),
    of: maybe(id).describe('The sample that it duplicates, spikes, splits or takes again'),
    planned: maybe(id).describe('The planned sample that it is'),
    laboratory: maybe(id).describe('Where it goes. Default: as planned'),
    laboratoryNumber: maybe(text(64)).describe(
      'Its number as told to the laboratory. Default: as planned, else its own',
    ),
    laboratoryTime: maybe(instant).describe('Its time as told to the laboratory. Default: as planned, else collected'),
    remark: maybe(text(LONG_TEXT)),
  },
});
