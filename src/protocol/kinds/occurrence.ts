import { z } from 'zod';
import { defineKind, FIELD, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, LONG_TEXT, text } from '../primitives.ts';

export const OCCURRENCE_TYPES = [
  'flow-changed',
  'pump-stopped',
  'pump-restarted',
  'meter-swapped',
  'sensor-recalibrated',
  'cell-cleaned',
  'cell-off',
  'intake-moved',
  'air-in-line',
  'drive-gas-in-discharge',
  'handed-over',
  'other',
] as const;

export const occurrence = defineKind({
  name: 'occurrence',
  plural: 'occurrences',
  family: 'observation',
  description: 'Something that happened during a purge and may matter to its readings.',
  home: { in: 'parent', field: 'purge' },
  references: { purge: 'purge', meter: 'unit', toCrew: 'crew' },
  writers: FIELD,
  fields: {
    purge: id,
    type: z.enum(OCCURRENCE_TYPES),
    flowMlPerMin: maybe(decimal).describe('The flow after it'),
    meter: maybe(id).describe('The meter after a swap, or the one that was recalibrated'),
    toCrew: maybe(id).describe('The crew that takes over'),
    observed,
    remark: maybe(text(LONG_TEXT)),
  },
});
