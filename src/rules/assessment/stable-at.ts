import type { Window } from './choose-window.ts';
import { conditionsMetAt } from './conditions-at.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import { isMet, type Standing, standingAt, wholeWindow } from './standing.ts';

const lastMetOf = new WeakMap<RunParameter, readonly number[]>();

/** For each reading, the latest one since the last interruption at which the parameter was met; -1 where none was. */
function lastMet(run: PurgeRun, parameter: RunParameter): readonly number[] {
  const known = lastMetOf.get(parameter);
  if (known) return known;
  const all: number[] = [];
  run.moments.forEach(({ interruption }, end) => {
    const same = run.moments[end - 1]?.interruption === interruption;
    const met = isMet(standingAt(run, parameter, end, wholeWindow(run, end)));
    all.push(met ? end : same ? (all[end - 1] ?? -1) : -1);
  });
  lastMetOf.set(parameter, all);
  return all;
}

/**
 * How a parameter stands at a reading. Where the plan lets each parameter be stable at its own time, that is its latest
 * window since the last interruption that met the criterion, if there is one.
 */
export function parameterStanding(run: PurgeRun, parameter: RunParameter, end: number): Standing {
  const last = run.plan.options.windows === 'own-time' ? (lastMet(run, parameter)[end] ?? -1) : -1;
  const at = last < 0 ? end : last;
  return standingAt(run, parameter, at, wholeWindow(run, at));
}

function standingOf(run: PurgeRun, parameter: RunParameter, end: number, whole: Window): Standing {
  const same = run.plan.options.windows === 'same-window';
  return same ? standingAt(run, parameter, end, whole) : parameterStanding(run, parameter, end);
}

/** A parameter that keeps the purge from being stable, null where none does. The suspect is looked at first. */
function unmetAt(run: PurgeRun, end: number, whole: Window, suspect: RunParameter | null): RunParameter | null {
  if (suspect !== null && !isMet(standingOf(run, suspect, end, whole))) return suspect;
  for (const parameter of run.parameters) {
    if (parameter !== suspect && parameter.required && !isMet(standingOf(run, parameter, end, whole))) return parameter;
  }
  return null;
}

/** Whether the purge was stable by the window that ends at a reading. */
export function stableAt(run: PurgeRun, end: number): boolean {
  const whole = wholeWindow(run, end);
  return whole.shortfall === null && unmetAt(run, end, whole, null) === null && conditionsMetAt(run, end, whole);
}

/**
 * The first reading at which the purge was stable, -1 where it never was. The parameter that failed last is tried
 * first: in most purges one parameter, such as turbidity, is what everybody waits for.
 */
export function firstStable(run: PurgeRun): number {
  let suspect: RunParameter | null = null;
  for (let end = run.plan.readingsNeeded - 1; end < run.moments.length; end += 1) {
    const whole = wholeWindow(run, end);
    if (whole.shortfall !== null) continue;
    suspect = unmetAt(run, end, whole, suspect);
    if (suspect === null && conditionsMetAt(run, end, whole)) return end;
  }
  return -1;
}
