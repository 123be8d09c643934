import { conditionsMetAt } from './conditions-at.ts';
import type { Arithmetics } from './judge.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import { isMet, type Standing, standingAt, wholeWindow } from './standing.ts';

/**
 * How a parameter stands at a reading. Where the plan lets each parameter be stable at its own time, that is its latest
 * window since the last interruption that met the criterion, if there is one.
 */
export function parameterStanding(
  run: PurgeRun,
  parameter: RunParameter,
  end: number,
  by: Arithmetics = run.by,
): Standing {
  const now = standingAt(run, parameter, end, wholeWindow(run, end), by);
  if (run.plan.options.windows === 'same-window' || isMet(now)) return now;
  const { interruption } = run.moments[end] ?? { interruption: null };
  for (let earlier = end - 1; run.moments[earlier]?.interruption === interruption; earlier -= 1) {
    const standing = standingAt(run, parameter, earlier, wholeWindow(run, earlier), by);
    if (isMet(standing)) return standing;
  }
  return now;
}

/** Whether the purge was stable by the window that ends at a reading. */
export function stableAt(run: PurgeRun, end: number, by: Arithmetics = run.by): boolean {
  const whole = wholeWindow(run, end);
  if (whole.shortfall !== null) return false;
  for (const parameter of run.parameters) {
    if (!parameter.required) continue;
    const standing =
      run.plan.options.windows === 'same-window'
        ? standingAt(run, parameter, end, whole, by)
        : parameterStanding(run, parameter, end, by);
    if (!isMet(standing)) return false;
  }
  return conditionsMetAt(run, end, whole);
}

/** The first reading at which the purge was stable, -1 where it never was. */
export function firstStable(run: PurgeRun): number {
  for (let end = run.plan.readingsNeeded - 1; end < run.moments.length; end += 1) if (stableAt(run, end)) return end;
  return -1;
}
