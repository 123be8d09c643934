import { z } from 'zod';
import { defineKind, maybe } from '../kind.ts';
import { id, instant, LONG_TEXT, text } from '../primitives.ts';

export const UNIT_STATES = ['unknown', 'clean', 'in-a-well', 'used', 'being-cleaned', 'out-of-service'] as const;
export type UnitStateName = (typeof UNIT_STATES)[number];

export const unitState = defineKind({
  name: 'unit-state',
  plural: 'unit-states',
  family: 'derived',
  description: 'Where a unit stands by all that is recorded of it, and the record that put it there.',
  home: { in: 'parent', field: 'unit' },
  references: { unit: 'unit', well: 'well' },
  writers: [],
  fields: {
    unit: id,
    state: z.enum(UNIT_STATES),
    since: maybe(instant).describe('As entered; missing for what it is from the first, before any record of it'),
    becauseRecord: id.describe('The record that put it there; the unit itself where nothing else did'),
    becauseKind: text(64),
    sentence: text(LONG_TEXT),
    well: maybe(id).describe('At which it is'),
  },
});
