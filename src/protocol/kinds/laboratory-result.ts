import { z } from 'zod';
import { defineKind, FIELD_AND_LABORATORY, maybe } from '../kind.ts';
import { observed } from '../observed.ts';
import { decimal, id, instant, LONG_TEXT, text } from '../primitives.ts';

export const RESULT_CONDITIONS = ['detected', 'not-detected', 'below-reporting-limit', 'not-reported'] as const;

export const laboratoryResult = defineKind({
  name: 'laboratory-result',
  plural: 'laboratory-results',
  family: 'observation',
  description: 'What the laboratory found of one analyte in a sample or in a blank, as its report says.',
  home: { in: 'parent', field: 'event' },
  references: { event: 'event', sample: 'sample', blank: 'blank', laboratory: 'laboratory' },
  writers: FIELD_AND_LABORATORY,
  fields: {
    event: id,
    sample: maybe(id).describe('In which it was found; a result is of a sample or of a blank'),
    blank: maybe(id),
    casNumber: maybe(text(64)).describe('CAS Registry Number; analytes are told apart by it where it is given'),
    analyte: text().describe('As the report names it'),
    value: maybe(decimal).describe('Missing where nothing was detected, or no figure is given'),
    unit: text(64).describe('Of the value and the limits, as the report writes it'),
    reportingLimit: maybe(decimal),
    detectionLimit: maybe(decimal),
    condition: z.enum(RESULT_CONDITIONS).describe('Below the reporting limit: seen, and the value only an estimate'),
    qualifiers: maybe(z.array(text(64)).max(20)).describe('As the report writes them; none is added or read here'),
    method: maybe(text()),
    fraction: maybe(text(64)).describe('Of the sample, as the report names it: Total or Dissolved, say'),
    extracted: maybe(instant),
    analyzed: maybe(instant),
    dilution: maybe(decimal).describe('Factor by which it was diluted'),
    laboratory: maybe(id).describe('Whose report it is'),
    observed: observed.describe('When and by whom the report was read and typed'),
    remark: maybe(text(LONG_TEXT)),
  },
});
