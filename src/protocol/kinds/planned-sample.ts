import { z } from 'zod';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';
import { SAMPLE_TYPES } from './sample.ts';

/** What is taken at a well, and the clean water that goes along. */
export const PLANNED_TYPES = [
  ...SAMPLE_TYPES,
  'equipment-blank',
  'field-blank',
  'trip-blank',
  'temperature-blank',
] as const;

export const plannedSample = defineKind({
  name: 'planned-sample',
  plural: 'planned-samples',
  family: 'fact',
  description:
    'A sample or blank that an event is to bring, with the number that it will have; it keeps it when dropped.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', well: 'well', of: 'planned-sample', crew: 'crew', laboratory: 'laboratory' },
  writers: OFFICE,
  fields: {
    event: id,
    number: text(64).describe('As on its bottles; never given to another one'),
    type: z.enum(PLANNED_TYPES),
    well: maybe(id).describe('Missing for a blank, and for a QC sample whose well is chosen on the way'),
    suites: z.array(text(64)).max(40).describe('Analyte suites; none for a temperature blank'),
    of: maybe(id).describe('The planned sample that it duplicates, spikes or splits'),
    crew: maybe(id),
    laboratory: maybe(id).describe('Where it goes. Default: by the plan of the event'),
    laboratoryNumber: maybe(text(64)).describe('Its number as told to the laboratory. Default: its own'),
    laboratoryTime: maybe(instant).describe('Its time as told to the laboratory. Default: when it was collected'),
    standing: z.enum(['planned', 'dropped']),
    droppedBecause: maybe(text(LONG_TEXT)),
    remark: maybe(text(LONG_TEXT)),
  },
});
