import { z } from 'zod';
import { isRefusal } from '../../science/refusal.ts';
import { placesText } from '../../science/units/significant-text.ts';
import type { LevelArrival, LevelForecast, NoLevelForecast } from './level-forecast.ts';

/** A forecast of the water level as REST and questions give it out. */
export const levelForecastShape = {
  direction: z
    .enum(['falling', 'steady', 'rising', 'not-known'])
    .nullable()
    .describe('Which way the level certainly goes; steady where no fall can be told from the scatter'),
  fallFtPerMin: z.string().nullable().describe('How fast it falls now'),
  fallWithinFtPerMin: z.string().nullable().describe('How far that may be off, either way, nineteen times in twenty'),
  levels: z.int().nullable().describe('The latest levels, which lie on a straight line'),
  arrivals: z
    .array(
      z.strictObject({
        at: z.enum(['screen-top', 'intake']),
        marginFt: z.string(),
        depthFt: z.string().describe('Its depth less the margin'),
        distanceFt: z.string().describe('From the latest level down to there; zero or negative where it was reached'),
        minutes: z.string().describe('After the latest level, rounded down; 0 where it was reached'),
        earliestMin: z.string().describe('Of an interval that holds nineteen times in twenty'),
        latestMin: z.string(),
        sentence: z.string(),
      }),
    )
    .describe('When the water gets where; where the level does not fall for certain, only what it has reached'),
};

const NO_RATE = { fallFtPerMin: null, fallWithinFtPerMin: null, levels: null };

export const NO_LEVEL_FORECAST = { direction: null, ...NO_RATE, arrivals: [] };

const PLACE_NAMES = { 'screen-top': 'the top of the screen', intake: 'the intake' } as const;

function arrivalSentence({ at, marginFt, depthFt, distanceFt, ...times }: LevelArrival): string {
  const place = Number(marginFt) === 0 ? PLACE_NAMES[at] : `${marginFt} ft above ${PLACE_NAMES[at]}`;
  if (Number(distanceFt) <= 0) return `The water has reached ${depthFt} ft, ${place}: lower the rate or stop.`;
  const { minutes, earliestMin, latestMin } = times;
  return `The water is at ${depthFt} ft, ${place}, in ${minutes} min (${earliestMin} to ${latestMin}), if it goes on falling so.`;
}

function shownArrivals(arrivals: readonly LevelArrival[]) {
  return arrivals.map((one) => ({ ...one, sentence: arrivalSentence(one) }));
}

/** A forecast in decimal strings and sentences; its figures are null where there is none. */
export function shownLevels(forecast: LevelForecast | NoLevelForecast) {
  const arrivals = shownArrivals(forecast.arrivals);
  if (isRefusal(forecast)) return { direction: forecast.direction, ...NO_RATE, arrivals };
  return {
    direction: 'falling' as const,
    fallFtPerMin: placesText(forecast.ftPerMin, 4),
    fallWithinFtPerMin: placesText(forecast.reachFtPerMin, 4),
    levels: forecast.levels,
    arrivals,
  };
}
