import { z } from 'zod';
import { DRAWDOWN_UNITS, LIMIT_KINDS } from '../../catalog/criteria-set.ts';
import { PARAMETERS } from '../../catalog/parameters.ts';
import { ABSOLUTE_ARITHMETICS, PERCENT_ARITHMETICS } from '../../science/arithmetic-names.ts';
import { defineKind, type FieldsOf, maybe } from '../kind.ts';
import { decimal, id, instant, LONG_TEXT, text } from '../primitives.ts';
import { CALL_DECISIONS } from './call.ts';

const sentence = text(LONG_TEXT);
/** A computed figure: it may have more digits than a measurement has. */
const figure = z.string().regex(/^-?\d+(?:\.\d+)?$/, { error: 'is not a decimal string' });
const count = z.int().min(0);
const parameter = z.enum(PARAMETERS);
const from = z.enum(['plan', 'set', 'default']);

export const PARAMETER_STATUSES = [
  'stable',
  'low-value',
  'not-stable',
  'missing',
  'over-range',
  'not-a-criterion',
] as const;

const judgedParameter = z.strictObject({
  parameter,
  status: z
    .enum(PARAMETER_STATUSES)
    .describe('stable and low-value are met, low-value also by an upper limit; missing: too few readings that count'),
  required: z.boolean().describe('Whether the well is unstable without it'),
  unit: text(16).describe('Of the values; temperatures are compared in °C, whatever the meter shows'),
  readings: z.array(id).describe('The readings of its window, earliest first'),
  values: z.array(figure).describe('Their values, as they were compared'),
  tolerance: maybe(
    z.strictObject({
      rule: z.enum(['percent', 'absolute', 'at-most', 'below', 'sensor-floor', 'none']),
      limit: maybe(decimal).describe('In percent, or in the unit of the parameter'),
      unit: maybe(text(16)).describe('Of the limit and of what was compared, where it is not that of the values'),
      verified: z.boolean().describe('The figure was read in its document, not recalled'),
    }),
  ),
  compared: maybe(figure).describe('What stood against the limit, rounded up in the last digit shown'),
  spread: maybe(figure).describe('Largest minus smallest'),
  spreadOverSmallest: maybe(z.strictObject({ percent: figure, within: z.boolean() })).describe(
    'Advice: when it is within the tolerance, so is every arithmetic in use',
  ),
  median: maybe(figure).describe('Where the criteria ask for it to be reported'),
  because: sentence,
});

const intervalCondition = z.strictObject({
  requiredS: maybe(count).describe('The least time between readings of the window; missing: no water moves'),
  criteriaS: count,
  graceS: count,
  turnover: z.enum(['met', 'not-met', 'not-known', 'not-a-condition']),
  flowCellMl: maybe(decimal),
  flowMlPerMin: maybe(decimal),
  because: sentence,
});

const drawdownCondition = z.strictObject({
  status: z.enum(['within', 'beyond-but-steady', 'steady', 'not-steady', 'not-known']),
  required: z.boolean(),
  staticFt: maybe(decimal),
  pumpingFt: maybe(decimal),
  drawdownFt: maybe(decimal),
  limit: maybe(decimal),
  limitUnit: maybe(z.enum(DRAWDOWN_UNITS)),
  spreadFt: maybe(decimal).describe('Of the pumping levels in the window'),
  because: sentence,
});

const minimumPurgeCondition = z.strictObject({
  status: z.enum(['met', 'not-met', 'not-known', 'not-a-condition']),
  required: z.boolean(),
  requiredMl: maybe(figure),
  drawdownMl: maybe(figure),
  tubingMl: maybe(figure),
  purgedMl: maybe(figure),
  because: sentence,
});

const volumesCondition = z.strictObject({
  status: z.enum(['met', 'not-met', 'not-known']),
  beforeFirstMl: maybe(figure).describe('Must be drawn before the first reading that counts; the grace is taken off'),
  betweenMl: maybe(figure).describe('Must be drawn between two readings of the window; the grace is taken off'),
  purgedMl: maybe(figure),
  because: sentence,
});

const choice = z.strictObject({ decision: z.enum(CALL_DECISIONS), means: sentence });

const limit = z.strictObject({
  of: z.enum(LIMIT_KINDS),
  limit: decimal,
  from: z.enum(['plan', 'set']),
  verified: z.boolean().describe('The figure was read in its document, not recalled'),
  status: z.enum(['not-reached', 'reached', 'not-known']).describe('Reached: without having been stable before'),
  reading: maybe(id).describe('The reading by which it was reached'),
  reachedAt: maybe(instant).describe('As the device entered it'),
  choices: maybe(z.array(choice)).describe('What the crew may do now; the call records which'),
  call: maybe(id).describe('The call that records the choice'),
  choice: maybe(z.enum(CALL_DECISIONS)),
  because: sentence,
});

const flowCondition = z.strictObject({
  status: z.enum(['steady', 'changed', 'not-known']),
  smallestMlPerMin: maybe(decimal),
  largestMlPerMin: maybe(decimal),
  because: sentence,
});

export const ADVICE_CODES = [
  'warming',
  'bubbles',
  'display-stands-still',
  'still-drifting',
  'steps-growing',
  'spread-over-smallest',
  'minimum-purge',
  'time-limit',
  'interrupted',
] as const;

export const assessment = defineKind({
  name: 'assessment',
  plural: 'assessments',
  family: 'derived',
  description:
    'Whether the water of a purge is stable: by which criteria, with which readings and numbers, since when, and why.',
  home: { in: 'parent', field: 'purge' },
  references: { purge: 'purge' },
  writers: [],
  fields: {
    purge: id,
    criteria: z.strictObject({
      id: text(64),
      document: maybe(text()),
      edition: maybe(text()),
      source: maybe(text(LONG_TEXT)),
      verified: z.boolean().describe('Every figure of the set was read in its document'),
    }),
    percentArithmetic: maybe(z.strictObject({ id: z.enum(PERCENT_ARITHMETICS), from, why: sentence })),
    absoluteArithmetic: maybe(z.strictObject({ id: z.enum(ABSOLUTE_ARITHMETICS), from, why: sentence })),
    decisions: z
      .array(z.strictObject({ option: text(64), choice: text(64), from, parameter: maybe(parameter), why: sentence }))
      .describe('Choices that the criteria leave open and that mattered here'),
    stable: z.boolean().describe('By the window that ends with the latest reading'),
    latestReadingAt: maybe(instant),
    window: z.array(id).describe('The latest readings that count, earliest first'),
    readingsNeeded: count,
    firstHeldAt: maybe(instant).describe('When the criteria were met for the first time, as the device entered it'),
    firstHeldWindow: maybe(z.array(id)),
    parameters: z.array(judgedParameter),
    conditions: z.strictObject({
      interval: intervalCondition,
      flow: flowCondition,
      drawdown: drawdownCondition,
      minimumPurge: minimumPurgeCondition,
      volumes: maybe(volumesCondition).describe('Where volumes must be drawn before or between readings'),
    }),
    limits: maybe(z.array(limit)).describe('After which the crew has to choose what to do; missing: there are none'),
    missing: z.array(sentence).describe('What keeps the well from being stable'),
    advice: z.array(z.strictObject({ code: z.enum(ADVICE_CODES), parameter: maybe(parameter), sentence })),
    otherArithmetics: z
      .array(
        z.strictObject({
          type: z.enum(['percent', 'absolute']),
          arithmetic: z.enum([...PERCENT_ARITHMETICS, 'total-spread', 'each-step']),
          stable: z.boolean().describe('What the well would be by it'),
          parameters: z.array(parameter).describe('Those that it would decide otherwise'),
        }),
      )
      .describe('The other arithmetics in use that decide at least one parameter otherwise'),
    call: z.strictObject({
      agreement: z.enum(['agrees', 'differs', 'none']),
      call: maybe(id).describe('The latest call of a person'),
      stableThen: maybe(z.boolean()).describe('By the readings that came before the call'),
      because: maybe(sentence),
    }),
  },
});
export type AssessmentFields = FieldsOf<typeof assessment>;
