import { PARAMETERS, type Parameter } from '../../catalog/parameters.ts';
import { type FirstSteps, firstSteps } from '../../science/forecast/first-step.ts';
import type { Uniform } from '../../science/forecast/seeded-uniform.ts';
import type { PurgeRun, RunParameter } from '../assessment/purge-run.ts';
import { parameterStanding } from '../assessment/stable-at.ts';
import { isMet } from '../assessment/standing.ts';
import { parameterPoints } from './parameter-points.ts';
import { type ReadingsToCome, readingsToCome } from './readings-to-come.ts';
import { DRAWS, type Simulated, simulateParameter, waysOf } from './simulate-parameter.ts';

/**
 * `already-met`, `forecast` with a band, `not-within` the time looked ahead, or why it cannot be told: `noise` alone
 * exceeds the tolerance, `too-few-readings` since the last interruption, or it was `not-read`.
 */
export const FORECAST_STATUSES = [
  'already-met',
  'forecast',
  'not-within',
  'noise',
  'too-few-readings',
  'not-read',
] as const;
export type ForecastStatus = (typeof FORECAST_STATUSES)[number];

/** The band leaves out a tenth at each end: eight in ten purges of the kind that the readings show end within it. */
const BAND = [0.1, 0.9] as const;

/** When something will be met; minutes after the latest reading. */
export interface MetForecast {
  readonly status: ForecastStatus;
  /** The middle of what may come; null where it lies beyond the time looked ahead, or there is no forecast. */
  readonly likelyMin: number | null;
  readonly earliestMin: number | null;
  /** Null where the band has no end within the time looked ahead. */
  readonly latestMin: number | null;
  /** How likely it is within the time looked ahead, in parts of one; null where it cannot be told. */
  readonly within: number | null;
}

export interface ParameterForecast extends MetForecast {
  readonly parameter: Parameter;
  readonly required: boolean;
  /** Readings since the last interruption that it is told from. */
  readonly readings: number;
}

export interface StabilizationForecast {
  readonly intervalMin: number;
  readonly horizonMin: number;
  readonly parameters: readonly ParameterForecast[];
  /** All required parameters together, as the plan has them met. */
  readonly all: MetForecast;
  /** The required parameters for which nothing can be told. */
  readonly untold: readonly Parameter[];
}

export const UNTOLD: ReadonlySet<ForecastStatus> = new Set<ForecastStatus>(['noise', 'too-few-readings', 'not-read']);

function nothing(status: ForecastStatus): MetForecast {
  return { status, likelyMin: null, earliestMin: null, latestMin: null, within: null };
}

const MET: MetForecast = { status: 'already-met', likelyMin: 0, earliestMin: 0, latestMin: 0, within: 1 };

function banded(steps: FirstSteps, { intervalMs }: ReadingsToCome): MetForecast {
  const minutes = (part: number) => {
    const step = steps.by(part);
    return step === null ? null : ((step + 1) * intervalMs) / 60_000;
  };
  const earliestMin = minutes(BAND[0]);
  if (earliestMin === null) return { ...nothing('not-within'), within: steps.share };
  return { status: 'forecast', likelyMin: minutes(0.5), earliestMin, latestMin: minutes(BAND[1]), within: steps.share };
}

function firstTrue(steps: readonly boolean[]): number | null {
  const first = steps.indexOf(true);
  return first < 0 ? null : first;
}

interface Worked {
  readonly forecast: ParameterForecast;
  /** Null where nothing could be drawn. */
  readonly simulated: Simulated | null;
}

function statusOf(run: PurgeRun, parameter: RunParameter, simulated: Simulated | null, coming: ReadingsToCome) {
  if (waysOf(parameter).every(({ series }) => series.quantities.every((quantity) => quantity === undefined)))
    return nothing('not-read');
  if (isMet(parameterStanding(run, parameter, run.moments.length - 1))) return MET;
  if (simulated === null) return nothing('too-few-readings');
  if (simulated.stillShare < 0.5) return nothing('noise');
  return banded(firstSteps(simulated.passes.map(firstTrue)), coming);
}

function workParameter(run: PurgeRun, parameter: RunParameter, coming: ReadingsToCome, uniform: Uniform): Worked {
  const simulated = simulateParameter(run, parameter, coming, uniform);
  const forecast = {
    parameter: parameter.series.parameter,
    required: parameter.required,
    readings: Math.max(...waysOf(parameter).map((one) => parameterPoints(run, one).points.length)),
    ...statusOf(run, parameter, simulated, coming),
  };
  return { forecast, simulated };
}

type Drawn = Worked & { readonly simulated: Simulated };

/** By each step, whether it is met then or, where each parameter has its own time, was met before. */
function counted(run: PurgeRun, { forecast, simulated }: Drawn, draw: number): readonly boolean[] {
  const steps = simulated.passes[draw] as readonly boolean[];
  if (run.plan.options.windows === 'same-window') return steps;
  const met = forecast.status === 'already-met';
  return steps.map((_, step) => met || steps.slice(0, step + 1).includes(true));
}

function together(run: PurgeRun, required: readonly Worked[], coming: ReadingsToCome): MetForecast {
  if (required.every(({ forecast }) => forecast.status === 'already-met')) return MET;
  const drawn = required.flatMap(({ forecast, simulated }) => (simulated === null ? [] : [{ forecast, simulated }]));
  if (drawn.length < required.length) return nothing('too-few-readings');
  const firsts = Array.from({ length: DRAWS }, (_, draw) => {
    const all = drawn.map((one) => counted(run, one, draw));
    return firstTrue(coming.timesMs.map((_time, step) => all.every((steps) => steps[step])));
  });
  return banded(firstSteps(firsts), coming);
}

function ofAll(run: PurgeRun, required: readonly Worked[], coming: ReadingsToCome): MetForecast {
  const untold = required.find(({ forecast }) => UNTOLD.has(forecast.status));
  return untold ? nothing(untold.forecast.status) : together(run, required, coming);
}

/**
 * When each parameter of a running purge will meet its criterion, and all that are required together, if the water goes
 * on as it did. It supposes readings at the pace of the crew, draws ways to go on that the readings allow, and judges the
 * windows to come as the assessment would. Whether the level is steady and enough was purged is not foreseen.
 *
 * @param uniform chance: the same numbers give the same forecast
 */
export function stabilizationForecast(run: PurgeRun, horizonMin: number, uniform: Uniform): StabilizationForecast {
  const coming = readingsToCome(run, horizonMin);
  const worked = run.parameters.map((parameter) => workParameter(run, parameter, coming, uniform));
  const required = worked.filter(({ forecast }) => forecast.required);
  const inOrder = worked.map(({ forecast }) => forecast);
  return {
    intervalMin: coming.intervalMs / 60_000,
    horizonMin: Math.max(horizonMin, coming.intervalMs / 60_000),
    parameters: inOrder.toSorted((a, b) => PARAMETERS.indexOf(a.parameter) - PARAMETERS.indexOf(b.parameter)),
    all: required.length === 0 ? nothing('not-read') : ofAll(run, required, coming),
    untold: required.flatMap(({ forecast }) => (UNTOLD.has(forecast.status) ? [forecast.parameter] : [])),
  };
}
