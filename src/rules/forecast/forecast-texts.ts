import { PARAMETER_NAMES } from '../../catalog/parameters.ts';
import { LEAST_READINGS } from '../../science/forecast/approach-posterior.ts';
import { placesText } from '../../science/units/significant-text.ts';
import type { MetForecast, ParameterForecast, StabilizationForecast } from './stabilization-forecast.ts';

/** Whole minutes; null stays null. */
export function minutesText(minutes: number | null): string | null {
  return minutes === null ? null : placesText(minutes, 0);
}

export function percentText(part: number | null): string | null {
  return part === null ? null : placesText(100 * part, 0);
}

/** In 5 to 20 min, most likely 10; or not before 15 min, and perhaps later than the time looked ahead. */
function bandText({ likelyMin, earliestMin, latestMin }: MetForecast, horizon: string): string {
  const from = minutesText(earliestMin);
  if (latestMin === earliestMin) return `in ${from} min`;
  if (latestMin !== null) return `in ${from} to ${minutesText(latestMin)} min, most likely ${minutesText(likelyMin)}`;
  const likely = likelyMin === null ? '' : `, most likely in ${minutesText(likelyMin)} min`;
  return `not before ${from} min${likely}; it may take longer than ${horizon} min`;
}

function sentence(forecast: MetForecast, readings: number, horizon: string): string {
  switch (forecast.status) {
    case 'already-met':
      return 'already met.';
    case 'forecast':
      return `met ${bandText(forecast, horizon)}.`;
    case 'not-within':
      return `not within ${horizon} min, as the readings go.`;
    case 'noise':
      return 'cannot be told: its scatter alone exceeds the tolerance, so it would pass by luck. Look for bubbles, an unsteady flow or a sensor that has not come to rest.';
    case 'too-few-readings':
      return `cannot be told from ${readings} readings since the last interruption: it takes ${LEAST_READINGS}.`;
    case 'not-read':
      return 'cannot be told: it was not read.';
  }
}

export function parameterSentence(one: ParameterForecast, horizonMin: number): string {
  const text = sentence(one, one.readings, placesText(horizonMin, 0));
  return `${PARAMETER_NAMES[one.parameter].name}: ${text}`;
}

function names(forecast: StabilizationForecast): string {
  return forecast.untold.map((parameter) => PARAMETER_NAMES[parameter].name).join(', ');
}

/** What holds for all required parameters together. */
export function togetherSentence(forecast: StabilizationForecast): string {
  const { all, untold, parameters, horizonMin } = forecast;
  const horizon = placesText(horizonMin, 0);
  if (!parameters.some(({ required }) => required))
    return 'The plan requires no parameter: there is nothing to foresee.';
  if (untold.length > 0) return `All together: cannot be told, for nothing can be told of ${names(forecast)}.`;
  if (all.status === 'too-few-readings')
    return `All together: cannot be told, for a parameter that is met now has fewer than ${LEAST_READINGS} readings.`;
  return `All together: ${sentence(all, 0, horizon)}`;
}
