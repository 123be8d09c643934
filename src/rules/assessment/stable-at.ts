import type { Window } from './choose-window.ts';
import { conditionsMetAt } from './conditions-at.ts';
import { itemAt } from './item-at.ts';
import type { Judged } from './parameter-text.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import { isMet, type Standing, standingAt, wholeWindow } from './standing.ts';

/** Whether a parameter is met by the window that ends at a reading, in its own unit or in percent of saturation. */
function metAt(run: PurgeRun, parameter: RunParameter, end: number, whole: Window): boolean {
  if (isMet(standingAt(run, parameter, end, whole))) return true;
  return parameter.inSaturation !== null && isMet(standingAt(run, parameter.inSaturation, end, whole));
}

const lastMetOf = new WeakMap<RunParameter, readonly number[]>();

/** For each reading, the latest one since the last interruption at which the parameter was met; -1 where none was. */
function lastMet(run: PurgeRun, parameter: RunParameter): readonly number[] {
  const known = lastMetOf.get(parameter);
  if (known) return known;
  const all: number[] = [];
  run.moments.forEach(({ interruption }, end) => {
    const same = run.moments[end - 1]?.interruption === interruption;
    const met = metAt(run, parameter, end, wholeWindow(run, end));
    all.push(met ? end : same ? itemAt(all, end - 1) : -1);
  });
  lastMetOf.set(parameter, all);
  return all;
}

/** The reading at which a parameter is looked at, for what is said at some reading. */
function lookedAt(run: PurgeRun, parameter: RunParameter, end: number): number {
  const last = run.plan.options.windows === 'own-time' ? (lastMet(run, parameter)[end] ?? -1) : -1;
  return last < 0 ? end : last;
}

/** The one in percent of saturation is shown where only it is met, or only it could be judged. */
function showsOther(own: Standing, other: Standing): boolean {
  return !isMet(own) && (isMet(other) || (own.finding === null && other.finding !== null));
}

/**
 * How a parameter stands at a reading. Where the plan lets each parameter be stable at its own time, that is its latest
 * window since the last interruption that met the criterion, if there is one.
 */
export function judgedAt(run: PurgeRun, parameter: RunParameter, end: number): Judged {
  const at = lookedAt(run, parameter, end);
  const whole = wholeWindow(run, at);
  const standing = standingAt(run, parameter, at, whole);
  if (parameter.inSaturation === null) return { parameter, standing, beside: null };
  const own = { parameter, standing, beside: null };
  const other = {
    parameter: parameter.inSaturation,
    standing: standingAt(run, parameter.inSaturation, at, whole),
    beside: null,
  };
  return showsOther(standing, other.standing) ? { ...other, beside: own } : { ...own, beside: other };
}

export function parameterStanding(run: PurgeRun, parameter: RunParameter, end: number): Standing {
  return judgedAt(run, parameter, end).standing;
}

function isMetAt(run: PurgeRun, parameter: RunParameter, end: number, whole: Window): boolean {
  if (run.plan.options.windows === 'same-window') return metAt(run, parameter, end, whole);
  return isMet(parameterStanding(run, parameter, end));
}

/** A parameter that keeps the purge from being stable, null where none does. The suspect is looked at first. */
function unmetAt(run: PurgeRun, end: number, whole: Window, suspect: RunParameter | null): RunParameter | null {
  if (suspect !== null && !isMetAt(run, suspect, end, whole)) return suspect;
  for (const parameter of run.parameters) {
    if (parameter !== suspect && parameter.required && !isMetAt(run, parameter, end, whole)) return parameter;
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
