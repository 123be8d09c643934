import { z } from 'zod';
import { defineKind, maybe, OFFICE } from '../kind.ts';
import { id, text } from '../primitives.ts';

export const assignment = defineKind({
  name: 'assignment',
  plural: 'assignments',
  family: 'fact',
  description: 'A crew works in an event, and, where a well is named, samples that well for these analyte suites.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', crew: 'crew', well: 'well' },
  writers: OFFICE,
  fields: {
    event: id,
    crew: id,
    well: maybe(id),
    suites: maybe(z.array(text(64)).max(40)).describe('Analyte suites to be sampled there'),
  },
});
