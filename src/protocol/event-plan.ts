import { z } from 'zod';
import { VOLUME_KINDS } from '../catalog/criteria-set.ts';
import { criteriaSet, criteriaSets } from '../catalog/criteria-sets.ts';
import { PARAMETERS } from '../catalog/parameters.ts';
import { ABSOLUTE_ARITHMETICS, PERCENT_ARITHMETICS } from '../science/arithmetic-names.ts';
import { calibrationPlan } from './calibration-plan.ts';
import { equipmentPlan } from './equipment-plan.ts';
import { maybe } from './kind.ts';
import { decimal, text } from './primitives.ts';
import { samplingPlan } from './sampling-plan.ts';

const positive = decimal.refine((value) => Number(value) > 0, { error: 'must be above zero' });
const notNegative = decimal.refine((value) => Number(value) >= 0, { error: 'must not be below zero' });
const seconds = z.int().min(0).max(86_400);

const drawnVolume = z.strictObject({
  amount: notNegative.describe('0: nothing has to be drawn'),
  of: z.enum(VOLUME_KINDS).describe('Well and casing volume: the water that stands in the casing'),
});

const parameterPlan = z.strictObject({
  use: maybe(z.enum(['required', 'advisory'])).describe(
    'Advisory: judged and shown, but never keeps a well unstable. Default: required, unless the set calls it optional',
  ),
  sensorFloor: maybe(positive).describe(
    'In the unit of the parameter: a total spread up to this is below what the sensor resolves and passes',
  ),
  roundTo: maybe(z.enum(['1', '0.1', '0.01', '0.001'])).describe(
    'Round each reading, halves away from zero, before comparing; missing: compare as entered',
  ),
  atMost: maybe(decimal).describe(
    'In the unit of the parameter: no reading of the window may be above it. Default: that of the set',
  ),
});

const DRAWDOWN_LIMITS = [
  'limitFt',
  'limitM',
  'limitScreenTopToIntakePercent',
  'limitScreenLengthPercent',
  'limitWaterColumnPercent',
  'steadyAtAnyDepth',
];

function limitsGiven(plan: Readonly<Record<string, unknown>>): number {
  return DRAWDOWN_LIMITS.filter((limit) => plan[limit] != null && plan[limit] !== false).length;
}

/** Choices that the published criteria leave open. Every one may be missing; its default stands in its description. */
export const stabilizationPlan = z.strictObject({
  percentArithmetic: maybe(z.enum(PERCENT_ARITHMETICS)).describe('Default: the one that fits the wording of the set'),
  absoluteArithmetic: maybe(z.enum(ABSOLUTE_ARITHMETICS)).describe('Default: the one that fits the wording of the set'),
  parameters: maybe(z.partialRecord(z.enum(PARAMETERS), parameterPlan)).describe(
    'Default: every parameter is required unless the set calls it optional, no floor, no rounding',
  ),
  count: maybe(z.enum(['readings', 'comparisons'])).describe(
    'What the "three" of the set counts: three readings (default), or three comparisons, which takes four readings',
  ),
  windows: maybe(z.enum(['same-window', 'own-time'])).describe(
    'Whether all parameters must be stable together (default) or each at its own time since the last interruption',
  ),
  minimumIntervalS: maybe(seconds).describe(
    'Least time between readings of a window. Default: that of the set, 180 where it gives none',
  ),
  graceS: maybe(z.int().min(0).max(600)).describe('By how much an interval may fall short. Default: 30'),
  largestGapS: maybe(seconds).describe('Longest gap inside a window, at least two intervals. Default: 1800'),
  turnover: maybe(z.enum(['required', 'not-required'])).describe(
    'Whether a flow-cell volume must pass between readings. Default: as the set says',
  ),
  flowChangePercent: maybe(notNegative).describe(
    'A change of flow by more than this part of the flow before it restarts the window. Default: 10',
  ),
  afterInterruption: maybe(z.enum(['one-interval', 'next-reading'])).describe(
    'The first reading that counts after an interruption: one interval later (default) or the next one',
  ),
  missing: maybe(z.enum(['skip', 'break'])).describe(
    'A reading that lacks a parameter is skipped for that parameter (default) or restarts it',
  ),
  overRange: maybe(z.enum(['break', 'skip'])).describe(
    'A figure at the end of the range of the meter restarts its parameter (default) or is skipped',
  ),
  lowValueStraddle: maybe(z.enum(['each-reading', 'window'])).describe(
    'The low-value rule asks for every reading below the threshold (default) or for the mean of the window',
  ),
  lowValueEquality: maybe(z.enum(['not-low', 'low'])).describe(
    'What a reading of exactly the threshold is where the wording leaves it open. Default: not-low',
  ),
  drawdown: maybe(
    z
      .strictObject({
        limitFt: maybe(positive),
        limitM: maybe(positive),
        limitScreenTopToIntakePercent: maybe(positive),
        limitScreenLengthPercent: maybe(positive),
        limitWaterColumnPercent: maybe(positive).describe('Of the water that stands in the well before the purge'),
        steadyAtAnyDepth: maybe(z.boolean()).describe('True: no limit is set against the drawdown'),
        steadyWithinFt: maybe(positive).describe('Spread of the pumping levels that is still steady. Default: 0.05'),
        steady: maybe(z.enum(['reported', 'required'])).describe(
          'Whether stable needs a steady level. Default: reported, unless the set requires it',
        ),
      })
      .refine((plan) => limitsGiven(plan) < 2, { error: 'has more than one limit of the drawdown: give one' }),
  ).describe('Default: the limit of the set, in the unit of the set'),
  minimumPurge: maybe(z.enum(['reported', 'required'])).describe(
    'Whether stable needs the minimum purge volume of the set. Default: reported',
  ),
  beforeFirstReading: maybe(drawnVolume).describe(
    'What must be drawn before the first reading that counts. Default: as the set says',
  ),
  betweenReadings: maybe(drawnVolume).describe(
    'What must be drawn between two readings of a window, beside the time. Default: as the set says',
  ),
  volumeGracePercent: maybe(
    notNegative.refine((value) => Number(value) < 100, { error: 'must be below 100: at 100 nothing would be drawn' }),
  ).describe('By how much a volume that must be drawn may fall short. Default: 5'),
  pumpVolumeMl: maybe(notNegative).describe(
    'Water in the pump, for pump-and-tubing and equipment volumes; without it these are not known',
  ),
  limits: maybe(
    z.strictObject({
      minutes: maybe(z.int().min(1).max(10_080)).describe('Since the first reading'),
      readings: maybe(z.int().min(1).max(1_000)),
      wellVolumes: maybe(positive),
    }),
  ).describe(
    'After so much without stability the crew has to choose: purge on, stop, or sample as it is. Default: those of the set; given, they take the place of all of them',
  ),
  whenUnknown: maybe(z.enum(['reported', 'not-stable'])).describe(
    'What a condition does that cannot be checked, such as turnover without a cell volume. Default: not-stable where volumes or a steady level are asked for, else reported',
  ),
});
export type StabilizationPlan = z.output<typeof stabilizationPlan>;

/** What a sampling round is judged by. It fixes editions and options, so that a later edition changes nothing past. */
export const eventPlan = z.strictObject({
  criteria: text(64)
    .refine((id) => criteriaSet(id) !== undefined, {
      error: `is no criteria set of the catalog; give one of: ${criteriaSets.map(({ id }) => id).join(', ')}`,
    })
    .describe('Id of a criteria set of the catalog'),
  stabilization: maybe(stabilizationPlan),
  equipment: maybe(equipmentPlan),
  calibration: maybe(calibrationPlan).describe('Missing: checks of meters are kept, and judged by nothing'),
  sampling: maybe(samplingPlan).describe('Missing: every option has its default'),
});
export type EventPlan = z.output<typeof eventPlan>;
