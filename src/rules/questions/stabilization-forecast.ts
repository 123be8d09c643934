import { z } from 'zod';
import { criteriaSet, isVerified } from '../../catalog/criteria-sets.ts';
import { eventPlan, stabilizationPlan } from '../../protocol/event-plan.ts';
import { READING_QUANTITIES } from '../../protocol/kinds/reading.ts';
import { decimal } from '../../protocol/primitives.ts';
import { seededUniform } from '../../science/forecast/seeded-uniform.ts';
import { refuse } from '../../science/refusal.ts';
import { assessPurge } from '../assessment/assess-purge.ts';
import { purgeRun } from '../assessment/purge-run.ts';
import { readPlan } from '../assessment/read-plan.ts';
import { cannotForesee } from '../forecast/cannot-foresee.ts';
import { STABILIZATION_FORECAST_CAUTIONS, STABILIZATION_FORECAST_SOURCES } from '../forecast/forecast-sources.ts';
import { inputOfReadings } from '../forecast/readings-input.ts';
import { DEFAULT_HORIZON_MIN, LONGEST_HORIZON_MIN } from '../forecast/readings-to-come.ts';
import { stabilizationForecast as forecastOf } from '../forecast/stabilization-forecast.ts';
import {
  NO_STABILIZATION_FORECAST,
  shownForecast,
  stabilizationForecastShape,
} from '../forecast/stabilization-shape.ts';
import { answered, unanswered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';

const { temperatureC, temperatureF, ph, specificConductanceUsPerCm, dissolvedOxygenMgPerL } = READING_QUANTITIES;
const { dissolvedOxygenPercent, orpMv, turbidityNtu, turbidityFnu, flowMlPerMin } = READING_QUANTITIES;
const { percentArithmetic, absoluteArithmetic, count, windows, minimumIntervalS } = stabilizationPlan.shape;

const reading = z.strictObject({
  elapsedMin: decimal.describe('Since any fixed moment, such as the beginning of the purge'),
  temperatureC,
  temperatureF,
  ph,
  specificConductanceUsPerCm,
  dissolvedOxygenMgPerL,
  dissolvedOxygenPercent,
  orpMv,
  turbidityNtu,
  turbidityFnu,
  flowMlPerMin,
});

/** Five readings of an invented well on its way to rest. */
const COMING_TO_REST = ['7.82', '7.55', '7.39', '7.27', '7.18'].map((value, at) => ({
  elapsedMin: String(5 * at),
  ph: value,
  specificConductanceUsPerCm: ['560', '541', '530', '523', '520'][at],
  dissolvedOxygenMgPerL: ['4.10', '3.05', '2.34', '1.90', '1.62'][at],
  orpMv: ['40', '12', '-8', '-22', '-31'][at],
  turbidityNtu: ['64', '41', '27', '18', '12.4'][at],
}));

const input = z
  .strictObject({
    criteria: eventPlan.shape.criteria,
    percentArithmetic,
    absoluteArithmetic,
    count,
    windows,
    minimumIntervalS,
    flowCellVolumeMl: decimal.optional().describe('With a flow, the time that the cell takes to turn over'),
    readings: z.array(reading).max(200).describe('Of the purge, in any order; a change of flow begins anew'),
    horizonMin: z
      .int()
      .min(1)
      .max(LONGEST_HORIZON_MIN)
      .optional()
      .describe(`How far to look ahead, in minutes. Default: ${DEFAULT_HORIZON_MIN}`),
    seed: z.int().min(1).max(1_000_000).optional().describe('Of the draws: the same seed gives the same answer'),
  })
  .meta({ examples: [{ criteria: 'puls-and-barcelona-1996', readings: COMING_TO_REST }] });

type Given = z.output<typeof input>;

function planOf(given: Given) {
  const { criteria, readings: _, horizonMin: __, seed: ___, flowCellVolumeMl: ____, ...stabilization } = given;
  return { criteria, stabilization };
}

export const stabilizationForecast = defineQuestion({
  name: 'stabilization-forecast',
  title: 'When will the water be stable?',
  description:
    'For each parameter of the criteria whether it is met, when it will be with a band that holds in eight of ten such purges, or honestly that it cannot be told. The windows to come are judged by the arithmetic of the criteria, as an assessment does. For readings that are not stored, or without a signal.',
  sources: STABILIZATION_FORECAST_SOURCES,
  input,
  output: z.strictObject({ ...stabilizationForecastShape, ...answerFields }),
  answer(given) {
    const plan = planOf(given);
    const set = criteriaSet(plan.criteria);
    if (set === undefined || given.readings.length === 0) {
      const nothing = refuse(
        set === undefined
          ? `There are no criteria ${plan.criteria} in this catalog: give a set that it has.`
          : 'No reading was given: give those of the purge, with their times.',
      );
      return { ...NO_STABILIZATION_FORECAST, ...unanswered(nothing, STABILIZATION_FORECAST_SOURCES) };
    }
    const records = inputOfReadings(plan, given.readings, given.flowCellVolumeMl);
    const run = purgeRun(records, readPlan(plan, set));
    const none = cannotForesee(run);
    if (none !== null) {
      return { ...NO_STABILIZATION_FORECAST, ...unanswered(refuse(none), STABILIZATION_FORECAST_SOURCES) };
    }
    const forecast = forecastOf(run, given.horizonMin ?? DEFAULT_HORIZON_MIN, seededUniform(given.seed ?? 1));
    const recalled = isVerified(set) ? [] : ['Figures of these criteria are from memory: the plan decides.'];
    const advice = assessPurge(records).advice.map(({ sentence }) => sentence);
    return {
      ...shownForecast(forecast),
      ...answered(
        advice,
        [`${set.document}, ${set.edition}`, ...STABILIZATION_FORECAST_SOURCES],
        [...recalled, ...STABILIZATION_FORECAST_CAUTIONS],
      ),
    };
  },
});
