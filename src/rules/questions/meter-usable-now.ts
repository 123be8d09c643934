import { z } from 'zod';
import { CHECK_LIMIT_SETS } from '../../catalog/calibration/check-limit-sets.ts';
import { PARAMETERS } from '../../catalog/parameters.ts';
import { LONGEST_H } from '../../protocol/calibration-plan.ts';
import { instant, text } from '../../protocol/primitives.ts';
import { checkInput, checkOf, optionFields } from '../calibration/check-fields.ts';
import { usableNow } from '../calibration/usable-now.ts';
import { answered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const SOURCES = [
  'Limits as each set names them (from memory)',
  'That a pass vouches for 24 h at most: common practice, no source',
  'Drift between two checks: county file, doc 928498, page 94 (pH) and doc 928332, page 70 (turbidity)',
];

const { set: limitSet, basis, percentOf, strictness } = optionFields;

const input = z
  .strictObject({
    set: limitSet,
    basis,
    percentOf,
    strictness,
    meter: text(64).describe('Which meter'),
    parameters: z.array(z.enum(PARAMETERS)).min(1).max(PARAMETERS.length).describe('That it has to read'),
    now: instant.describe('With offset'),
    longestH: z.int().min(1).max(168).optional().describe('How long a pass vouches, in hours. Default: 24'),
    checks: z.array(checkInput).max(500).describe('Of this meter, in any order; others do no harm'),
  })
  .meta({
    examples: [
      {
        set: 'usgs-field-manual',
        meter: 'meter 2',
        parameters: ['ph', 'turbidity'],
        now: '2026-05-04T09:00:00-05:00',
        checks: [
          {
            id: 'morning',
            meter: 'meter 2',
            parameter: 'ph',
            act: 'checked',
            part: 'start',
            at: '2026-05-04T07:30:00-05:00',
            reading: '7.05',
            buffer: 'technical-700',
            temperatureC: '15.0',
          },
        ],
      },
    ],
  });

export const meterUsableNow = defineQuestion({
  name: 'meter-usable-now',
  title: 'May this meter be used now?',
  description:
    'Answers sensor by sensor from the checks of the meter, one set of limits and the time, so that a phone can ask it at the well without a signal. No is advice: a reading that is made nevertheless is kept like any other.',
  sources: SOURCES,
  input,
  output: z.strictObject({
    usable: z.boolean().nullable().describe('Whether every parameter asked for may be read'),
    sensors: z
      .array(
        z.strictObject({
          parameter: z.enum(PARAMETERS).describe('Of the purge'),
          usable: z.boolean().describe('Whether it may be read now'),
          reasons: z.array(z.string()).describe('Why, and what to do'),
          cautions: z.array(z.string()).describe('What to mind'),
          until: z.string().nullable().describe('Until when the last pass vouches'),
        }),
      )
      .describe('One entry a parameter'),
    ...answerFields,
  }),
  answer({ set: id, checks, meter, parameters, now, longestH, ...options }) {
    const set = CHECK_LIMIT_SETS[id];
    const given = { meter, parameters, now, longestH: longestH ?? LONGEST_H };
    const sensors = usableNow(set, checks.map(checkOf), given, options);
    return {
      usable: sensors.every((sensor) => sensor.usable),
      sensors: sensors.map((one) => ({ ...one, reasons: [...one.reasons], cautions: [...one.cautions] })),
      ...answered(
        sensors.flatMap((one) => one.reasons),
        [set.source, ...SOURCES],
        sensors.flatMap((one) => one.cautions),
      ),
    };
  },
});
