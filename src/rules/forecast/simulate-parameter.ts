import { type ApproachPosterior, approachPosterior, drawCourse } from '../../science/forecast/approach-posterior.ts';
import { drawnReadings, drawnStandingStill } from '../../science/forecast/drawn-readings.ts';
import { passingSteps } from '../../science/forecast/first-step.ts';
import type { Uniform } from '../../science/forecast/seeded-uniform.ts';
import { isRefusal } from '../../science/refusal.ts';
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

function simulateOne(
  run: PurgeRun,
  parameter: RunParameter,
  { timesMs }: ReadingsToCome,
  uniform: Uniform,
): Simulated[] {
  const ready = parameterPoints(run, parameter);
  const posterior = approachPosterior(ready.points, ready.display.lastDigit);
  if (isRefusal(posterior)) return [];
  const timesMin = timesMs.map((ms) => ms / 60_000);
  const drawing = { run, parameter, ready, posterior, timesMin };
  const draws = Array.from({ length: DRAWS }, () => drawOne(drawing, uniform));
  return [
    {
      passes: draws.map(({ steps }) => steps),
      stillShare: draws.filter(({ still }) => still).length / DRAWS,
    },
  ];
}

/** A parameter in the quantities in which it may be met: its own, and percent of saturation where the set allows that. */
export function waysOf(parameter: RunParameter): RunParameter[] {
  return parameter.inSaturation === null ? [parameter] : [parameter, parameter.inSaturation];
}

/** Met in one quantity or in the other. */
function either(a: Simulated, b: Simulated): Simulated {
  return {
    passes: a.passes.map((steps, draw) => steps.map((met, step) => met || b.passes[draw]?.[step] === true)),
    stillShare: Math.max(a.stillShare, b.stillShare),
  };
}

/**
 * Draws ways in which a parameter may go on, and holds every window to come against its criterion by the arithmetic of
 * the plan: the same judge that decides whether the well is stable. Two quantities of one parameter are drawn apart.
 *
 * @returns null where the readings are too few to say anything
 */
export function simulateParameter(
  run: PurgeRun,
  parameter: RunParameter,
  coming: ReadingsToCome,
  uniform: Uniform,
): Simulated | null {
  const [first, second] = waysOf(parameter).flatMap((one) => simulateOne(run, one, coming, uniform));
  if (first === undefined || second === undefined) return first ?? null;
  return either(first, second);
}
