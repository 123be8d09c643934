import { criteriaSet, isVerified } from '../../catalog/criteria-sets.ts';
import type { Uniform } from '../../science/forecast/seeded-uniform.ts';
import { millionths } from '../../science/millionths.ts';
import { isRefusal, refuse } from '../../science/refusal.ts';
import { assessPurge } from '../assessment/assess-purge.ts';
import type { AssessmentInput, WellRecord } from '../assessment/assessment-input.ts';
import { type PurgeRun, purgeRun } from '../assessment/purge-run.ts';
import { readPlan } from '../assessment/read-plan.ts';
import { decimalText } from '../millionths.ts';
import { depthBelowPoint } from '../well-depth.ts';
import { cannotForesee } from './cannot-foresee.ts';
import {
  LEVEL_FORECAST_CAUTIONS,
  LEVEL_FORECAST_SOURCES,
  STABILIZATION_FORECAST_CAUTIONS,
  STABILIZATION_FORECAST_SOURCES,
} from './forecast-sources.ts';
import { type LevelForecast, type LevelTarget, levelForecast, type NoLevelForecast } from './level-forecast.ts';
import { NO_LEVEL_FORECAST, shownLevels } from './level-shape.ts';
import { rateSinceMs } from './rate-since.ts';
import { stabilizationForecast } from './stabilization-forecast.ts';
import { NO_STABILIZATION_FORECAST, shownForecast } from './stabilization-shape.ts';

export interface ForecastOptions {
  readonly horizonMin: number;
  /** How far above the top of the screen and the intake one wants to stop. */
  readonly marginFt: string;
  readonly uniform: Uniform;
}

/** Nothing to keep the water from where it stands in the screen before anybody pumps. */
function screenTop(well: WellRecord | null, staticFt: string | null): LevelTarget[] {
  if (well === null) return [];
  const depth = depthBelowPoint(well, 'screenTopFt');
  if (!depth.known || (staticFt !== null && millionths(staticFt) >= depth.millionthsFt)) return [];
  return [{ at: 'screen-top', depthFt: decimalText(depth.millionthsFt) }];
}

function intake(run: PurgeRun): LevelTarget[] {
  const depthFt = run.setUp?.fields.intakeDepthFt;
  return depthFt === undefined ? [] : [{ at: 'intake', depthFt }];
}

function levelsOf(run: PurgeRun, marginFt: string): LevelForecast | NoLevelForecast {
  const since = rateSinceMs(run);
  const levels = run.pumpingLevels
    .filter(({ atMs }) => atMs >= since)
    .map(({ atMs, depthFt }) => ({ minutes: atMs / 60_000, depthFt }));
  const targets = [...screenTop(run.input.well, run.staticFt), ...intake(run)];
  if (targets.length > 0) return levelForecast(levels, targets, marginFt);
  const because =
    'The depth of the intake is not recorded, and no top of a screen, below the measuring point, that the water stands above.';
  return { direction: 'not-known', arrivals: [], ...refuse(because) };
}

function withoutSet(input: AssessmentInput) {
  const { refused } = refuse(`The plan cites the criteria set ${input.plan.criteria}, which is not in the catalog.`);
  return {
    purge: input.purge.id,
    criteria: input.plan.criteria,
    latestReadingAt: null,
    stabilization: { ...NO_STABILIZATION_FORECAST, refused },
    levels: { ...NO_LEVEL_FORECAST, refused },
    advice: [],
    cautions: [],
    sources: [],
  };
}

function cautionsOf({ input, plan }: PurgeRun): string[] {
  const { ended } = input.purge.fields;
  return [
    ...(ended === undefined ? [] : [`The purge ended at ${ended}: this is what could be foreseen then.`]),
    ...(isVerified(plan.set) ? [] : ['Figures of these criteria are from memory: the plan decides.']),
    ...STABILIZATION_FORECAST_CAUTIONS,
    ...LEVEL_FORECAST_CAUTIONS,
  ];
}

/**
 * How a running purge will go on, from its records as they stand: when its parameters will meet their criteria, and when
 * the water will be at the top of the screen or at the intake. The same records, options and chance give the same answer.
 */
export function forecastPurge(input: AssessmentInput, { horizonMin, marginFt, uniform }: ForecastOptions) {
  const set = criteriaSet(input.plan.criteria);
  if (set === undefined) return withoutSet(input);
  const run = purgeRun(input, readPlan(input.plan, set));
  const latest = run.readings.at(-1);
  const levels = levelsOf(run, marginFt);
  const none = cannotForesee(run);
  const stabilization =
    none === null ? shownForecast(stabilizationForecast(run, horizonMin, uniform)) : NO_STABILIZATION_FORECAST;
  return {
    purge: input.purge.id,
    criteria: set.id,
    latestReadingAt: latest?.record.fields.observed.at ?? null,
    stabilization: { ...stabilization, refused: none },
    levels: { ...shownLevels(levels), refused: isRefusal(levels) ? levels.refused : null },
    advice: assessPurge(input).advice.map(({ sentence }) => sentence),
    cautions: cautionsOf(run),
    sources: [`${set.document}, ${set.edition}`, ...STABILIZATION_FORECAST_SOURCES, ...LEVEL_FORECAST_SOURCES],
  };
}

export type PurgeForecast = ReturnType<typeof forecastPurge>;
