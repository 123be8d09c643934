import { z } from 'zod';
import { CHECK_LIMIT_SETS } from '../../catalog/calibration/check-limit-sets.ts';
import { PARAMETERS } from '../../catalog/parameters.ts';
import { decimal, instant, text } from '../../protocol/primitives.ts';
import { type Bracketed, bracketReadings } from '../calibration/bracket.ts';
import { checkInput, checkOf, optionFields } from '../calibration/check-fields.ts';
import { answered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Florida DEP, status and trend networks sampling manual, training of September 2018, section 3: bracketing in time and in value',
  'Limits of the checks as each set names them (from memory)',
];

const readingInput = z.strictObject({
  id: text(64).describe('Names the reading in the answer'),
  meter: text(64).describe('Which meter read it'),
  parameter: z.enum(PARAMETERS).describe('Of the purge'),
  at: instant.describe('When, with offset'),
  value: decimal.optional().describe('As read, in the unit of the parameter; missing: only the time is asked about'),
  turbidityUnit: z.enum(['NTU', 'FNU']).optional().describe('As the meter shows'),
});

function conductanceCheck(id: string, act: string, part: string, at: string, nominal: string, reading: string) {
  return { id, meter: 'meter 1', parameter: 'specific-conductance', act, part, at, nominal, reading };
}

const { set: limitSet, basis, percentOf, strictness } = optionFields;

const input = z
  .strictObject({
    set: limitSet,
    basis,
    percentOf,
    strictness,
    checks: z.array(checkInput).max(500).describe('Calibrations and checks, in any order'),
    readings: z.array(readingInput).max(2_000).describe('Field values, in any order'),
  })
  .meta({
    examples: [
      {
        set: 'florida-field-testing',
        checks: [
          conductanceCheck('set', 'calibrated', 'start', '2018-09-04T07:30:00-04:00', '1000', '1000'),
          conductanceCheck('after setting', 'checked', 'start', '2018-09-04T07:35:00-04:00', '100', '101'),
          conductanceCheck('evening', 'checked', 'end', '2018-09-04T15:30:00-04:00', '5000', '4920'),
        ],
        readings: [
          {
            id: 'sample',
            meter: 'meter 1',
            parameter: 'specific-conductance',
            at: '2018-09-04T10:00:00-04:00',
            value: '1500',
          },
        ],
      },
    ],
  });

function listed({ reading, standing, reasons, before, after, span }: Bracketed) {
  return {
    reading,
    standing,
    reasons: [...reasons],
    before,
    after,
    leastStandard: span?.least ?? null,
    mostStandard: span?.most ?? null,
  };
}

function counted(results: readonly Bracketed[]): string {
  const of = (standing: Bracketed['standing']) => results.filter((one) => one.standing === standing).length;
  return `${of('covered')} covered, ${of('pending')} waiting for a check after them, ${of('in-question')} in question.`;
}

export const calibrationBracket = defineQuestion({
  name: 'calibration-bracket',
  title: 'Do the checks of the meter vouch for these readings?',
  description:
    'For each reading: a pass before it and after it with no calibration in between, and standards on both sides of its value. A failed check puts the readings back to the last pass in question, each with its reason; a person reviews, and nothing is taken back or qualified by itself.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    results: z
      .array(
        z.strictObject({
          reading: z.string().describe('Id of the reading'),
          standing: z.enum(['covered', 'pending', 'in-question']).describe('Pending: no check after it yet'),
          reasons: z.array(z.string()).describe('What stands against it, or is worth knowing'),
          before: z.string().nullable().describe('When the check before it was'),
          after: z.string().nullable().describe('When the check after it was'),
          leastStandard: z
            .string()
            .nullable()
            .describe('Smallest standard that vouches; null where value does not count'),
          mostStandard: z.string().nullable().describe('Largest standard that vouches'),
        }),
      )
      .describe('One entry a reading, in the order given'),
    ...answerFields,
  }),
  answer({ set: id, checks, readings, ...options }) {
    const set = CHECK_LIMIT_SETS[id];
    const values = readings.map((reading) => ({ ...reading, value: reading.value ?? null }));
    const results = bracketReadings(set, checks.map(checkOf), values, options);
    return { results: results.map(listed), ...answered([counted(results)], [set.source, set.bracketSource]) };
  },
});
