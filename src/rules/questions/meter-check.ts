import { z } from 'zod';
import { CHECK_LIMIT_SETS } from '../../catalog/calibration/check-limit-sets.ts';
import { CHECK_BASES } from '../../protocol/calibration-plan.ts';
import { decimal } from '../../protocol/primitives.ts';
import { refuse } from '../../science/refusal.ts';
import { assessCheck } from '../calibration/assess-check.ts';
import { checkInput, checkOf, optionFields } from '../calibration/check-fields.ts';
import { answered, figure, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'US EPA Region 1, EQASOP-FieldCalibrat; Florida DEP, FT 1000 series; US Geological Survey, National Field Manual, chapter A6; US EPA Region 4, field measurement (limits from memory)',
  'Each table of a standard names its own source in the answer',
];

const { set: limitSet, basis, percentOf, strictness } = optionFields;

export const meterCheck = defineQuestion({
  name: 'meter-check',
  title: 'Does this check of a meter pass?',
  description:
    'Compares what a meter showed in a standard with the value of the standard, by the limits of one document: absolute, in percent or the greater of both, with the value of the label or at the temperature, which the answer says. It also says where another reading of the document would have decided otherwise. Nothing is taken back.',
  sources: SOURCES,
  input: z
    .strictObject({
      set: limitSet,
      basis,
      percentOf,
      strictness,
      groundwaterTemperatureC: decimal.optional().describe('At the well, by which the ORP solution is questioned'),
      check: checkInput.describe('One standard read with one sensor'),
    })
    .meta({
      examples: [
        {
          set: 'florida-field-testing',
          check: {
            id: 'end of day',
            meter: 'meter 2',
            parameter: 'ph',
            act: 'checked',
            part: 'end',
            at: '2026-05-04T16:10:00-05:00',
            reading: '7.25',
            buffer: 'technical-700',
            temperatureC: '10.0',
          },
        },
      ],
    }),
  output: z.strictObject({
    outcome: z.enum(['pass', 'fail', 'cannot-tell', 'no-limit']).nullable().describe('Of the check'),
    standardValue: figure('What the reading was compared with'),
    basis: z.enum(CHECK_BASES).nullable().describe('Of the label, or at the temperature'),
    deviation: figure('Reading less standard'),
    allowed: figure('What is allowed, in words'),
    verified: z.boolean().nullable().describe('Whether every figure of the limit was read in its document'),
    ...answerFields,
  }),
  answer({ set: id, check, groundwaterTemperatureC, ...options }) {
    const set = CHECK_LIMIT_SETS[id];
    const { sentence, cautions, sources, ...result } = assessCheck(
      set,
      checkOf(check),
      options,
      groundwaterTemperatureC,
    );
    if (result.outcome === 'cannot-tell' || result.outcome === 'no-limit')
      return { ...result, ...unanswered(refuse(sentence), sources) };
    return { ...result, ...answered([sentence], sources, cautions) };
  },
});
