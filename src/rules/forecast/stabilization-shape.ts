import { z } from 'zod';
import { PARAMETERS } from '../../catalog/parameters.ts';
import { minutesText, parameterSentence, percentText, togetherSentence } from './forecast-texts.ts';
import { FORECAST_STATUSES, type MetForecast, type StabilizationForecast } from './stabilization-forecast.ts';

const minutes = (what: string) => z.string().nullable().describe(`${what}, minutes after the latest reading`);

const met = {
  status: z
    .enum(FORECAST_STATUSES)
    .describe('Whether it is met, will be, or cannot be told because of noise, too few readings or none'),
  likelyMin: minutes('The middle of what may come; null beyond the time looked ahead'),
  earliestMin: minutes('One in ten is met before'),
  latestMin: minutes('Nine in ten are met by then; null where that is beyond the time looked ahead'),
  withinHorizonPercent: z.string().nullable().describe('How likely it is met within the time looked ahead'),
  because: z.string(),
};

/** A forecast of stabilization as REST and questions give it out. */
export const stabilizationForecastShape = {
  horizonMin: z.string().nullable().describe('How far was looked ahead'),
  intervalMin: z.string().nullable().describe('Time between the readings that are supposed to come'),
  parameters: z
    .array(
      z.strictObject({
        parameter: z.enum(PARAMETERS),
        required: z.boolean(),
        readings: z.int().describe('Since the last interruption, from which it is told'),
        ...met,
      }),
    )
    .describe('Every parameter of the criteria, alone'),
  together: z
    .strictObject(met)
    .nullable()
    .describe('All required parameters, in one window where the plan asks for it'),
};

export const NO_STABILIZATION_FORECAST = { horizonMin: null, intervalMin: null, parameters: [], together: null };

function metTexts({ status, likelyMin, earliestMin, latestMin, within }: MetForecast) {
  return {
    status,
    likelyMin: minutesText(likelyMin),
    earliestMin: minutesText(earliestMin),
    latestMin: minutesText(latestMin),
    withinHorizonPercent: percentText(within),
  };
}

/** A forecast in decimal strings and sentences. */
export function shownForecast(forecast: StabilizationForecast) {
  const { horizonMin, intervalMin } = forecast;
  return {
    horizonMin: minutesText(horizonMin),
    intervalMin: minutesText(intervalMin),
    parameters: forecast.parameters.map((one) => ({
      parameter: one.parameter,
      required: one.required,
      readings: one.readings,
      ...metTexts(one),
      because: parameterSentence(one, horizonMin),
    })),
    together: { ...metTexts(forecast.all), because: togetherSentence(forecast) },
  };
}
