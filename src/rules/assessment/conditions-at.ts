import type { Window } from './choose-window.ts';
import { drawdownAt } from './drawdown.ts';
import { minimumPurgeAt } from './minimum-purge.ts';
import type { PurgeRun } from './purge-run.ts';

/** Whether the turnover of the flow cell could be checked at a reading; it is kept by the choice of the window. */
export function turnoverAt(run: PurgeRun, end: number): 'kept' | 'not-known' | 'not-a-condition' {
  if (run.plan.options.turnover === 'not-required') return 'not-a-condition';
  const moment = run.moments[end];
  return moment && moment.flowCellMl !== null && moment.flow !== null ? 'kept' : 'not-known';
}

/** Whether what must be drawn could be checked at a reading; it is kept by the choice of the window. */
export function volumesAt(run: PurgeRun, end: number): 'kept' | 'not-known' | 'not-a-condition' {
  if (run.volumes === null) return 'not-a-condition';
  return run.volumes.lacks.length > 0 || (run.purgedMl[end] ?? null) === null ? 'not-known' : 'kept';
}

/** Whether every condition that the plan makes part of stability is met at a reading. */
export function conditionsMetAt(run: PurgeRun, end: number, whole: Window): boolean {
  const { options } = run.plan;
  const unknownPasses = options.whenUnknown === 'reported';
  if (!unknownPasses && (turnoverAt(run, end) === 'not-known' || volumesAt(run, end) === 'not-known')) return false;
  if (options.drawdown.required && !(drawdownAt(run, end, whole).steady ?? unknownPasses)) return false;
  if (options.minimumPurge === 'reported') return true;
  const { status } = minimumPurgeAt(run, end, whole);
  return status === 'not-known' ? unknownPasses : status !== 'not-met';
}
