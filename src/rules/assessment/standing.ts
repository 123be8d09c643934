import { chooseWindow, type Window } from './choose-window.ts';
import { itemAt } from './item-at.ts';
import { type Finding, judgeWindow } from './judge.ts';
import type { PurgeRun, RunParameter } from './purge-run.ts';
import type { Series } from './series.ts';

/** How one parameter stands at one reading of the purge. */
export interface Standing {
  readonly window: Window;
  /** Null where there is nothing to judge. */
  readonly finding: Finding | null;
  /** It was not read at the end of the window, nor at the reading of the window before that. */
  readonly stale: boolean;
}

export function isMet(standing: Standing): boolean {
  return standing.finding?.met ?? false;
}

export function valuesOf(series: Series, window: Window): number[] {
  const values: number[] = [];
  for (const index of window.indices) values.push(itemAt(series.values, index));
  return values;
}

/**
 * @param end the reading at which the window ends
 * @param whole the window of the purge that ends there, whatever is measured
 */
export function standingAt(run: PurgeRun, parameter: RunParameter, end: number, whole: Window): Standing {
  const { series } = parameter;
  const window = series.complete ? whole : chooseWindow(run.plan, run.moments, end, series);
  if (window.shortfall !== null || whole.shortfall !== null) return { window, finding: null, stale: false };
  const oldest = whole.indices.at(-2) as number;
  if ((window.indices.at(-1) as number) < oldest) return { window, finding: null, stale: true };
  return { window, finding: judgeWindow(parameter.judge, valuesOf(series, window), run.by), stale: false };
}

export function wholeWindow(run: PurgeRun, end: number): Window {
  return chooseWindow(run.plan, run.moments, end, null);
}
