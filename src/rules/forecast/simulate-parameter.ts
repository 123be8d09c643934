import { type ApproachPosterior, approachPosterior, drawCourse } from '../../science/forecast/approach-posterior.ts';
import { drawnReadings, drawnStandingStill } from '../../science/forecast/drawn-readings.ts';
import { passingSteps } from '../../science/forecast/first-step.ts';
import type { Uniform } from '../../science/forecast/seeded-uniform.ts';
import { isRefusal, type Refusal } from '../../science/refusal.ts';
import { judgeWindow } from '../assessment/judge.ts';
import type { PurgeRun, RunParameter } from '../assessment/purge-run.ts';
import { type ParameterPoints, parameterPoints } from './parameter-points.ts';
import type { ReadingsToCome } from './readings-to-come.ts';

/** Ways to go on that are drawn: enough for a tenth to be told from a twelfth. Common practice, no source. */
export const DRAWS = 400;

/** What became of a parameter in each of the ways to go on that were drawn. */
export interface Simulated {
  /** For each draw and step to come, whether the window that ends there meets the criterion. */
  readonly passes: readonly (readonly boolean[])[];
  /** Part of the draws in which a window passes that has nothing but scatter in it. */
  readonly stillShare: number;
}

interface Drawing {
  readonly run: PurgeRun;
  readonly parameter: RunParameter;
  readonly ready: ParameterPoints;
  readonly posterior: ApproachPosterior;
  readonly timesMin: readonly number[];
}

function drawOne({ run, parameter, ready, posterior, timesMin }: Drawing, uniform: Uniform) {
  const size = run.plan.readingsNeeded;
  const { most } = ready.display;
  const passes = (window: readonly number[]) =>
    window.every((value) => Math.abs(value) < most) && judgeWindow(parameter.judge, window, run.by).met;
  const course = drawCourse(posterior, uniform);
  const coming = drawnReadings(course, timesMin, ready.display, uniform);
  const last = Math.max(...timesMin);
  const still = drawnStandingStill(course, last, size, ready.display, uniform);
  return { steps: passingSteps(ready.before, coming, size, passes), still: passes(still) };
}

/**
 * Draws ways in which a parameter may go on, and holds every window to come against its criterion by the arithmetic of
 * the plan: the same judge that decides whether the well is stable.
 *
 * @returns a refusal where the readings are too few to say anything
 */
export function simulateParameter(
  run: PurgeRun,
  parameter: RunParameter,
  { timesMs }: ReadingsToCome,
  uniform: Uniform,
): Simulated | Refusal {
  const ready = parameterPoints(run, parameter);
  const posterior = approachPosterior(ready.points, ready.display.lastDigit);
  if (isRefusal(posterior)) return posterior;
  const timesMin = timesMs.map((ms) => ms / 60_000);
  const drawing = { run, parameter, ready, posterior, timesMin };
  const draws = Array.from({ length: DRAWS }, () => drawOne(drawing, uniform));
  return {
    passes: draws.map(({ steps }) => steps),
    stillShare: draws.filter(({ still }) => still).length / DRAWS,
  };
}
