import type { Moment } from './moments.ts';
import type { ReadPlan } from './read-plan.ts';
import type { Series } from './series.ts';

/** Why a window is not full: too few readings that count, or too long a gap before the earliest of them. */
export type Shortfall = 'too-few' | 'gap';

export interface Window {
  /** Places of its readings in the purge, earliest first. */
  readonly indices: readonly number[];
  readonly shortfall: Shortfall | null;
}

function hasValue(series: Series | null, index: number): boolean {
  return series === null || !Number.isNaN(series.values[index]);
}

/** Whether as much was drawn between two readings as must be. */
function drawnApart({ drawnMl }: Moment, after: Moment, apartMl: number): boolean {
  return drawnMl !== null && (after.drawnMl as number) - drawnMl >= apartMl;
}

/**
 * The latest readings that lie at least one interval apart, counted back from the one at `end`, so that an extra
 * reading in between spoils nothing: of readings at 0:00, 2:00, 4:50 and 10:05 the window takes 0:00, 4:50 and 10:05.
 * None of them is older than the last interruption, and no gap is longer than the plan allows, unless readings are
 * spaced by the volume drawn.
 *
 * @param series takes only readings that have a value of this parameter; null takes any
 */
export function chooseWindow(plan: ReadPlan, moments: readonly Moment[], end: number, series: Series | null): Window {
  const { graceMs, largestGapMs } = plan.options;
  const first = Math.max(moments[end]?.firstCounted ?? 0, series?.starts?.[end] ?? 0);
  const indices: number[] = [];
  let shortfall: Shortfall = 'too-few';
  let latest: Moment | null = null;
  for (let index = end; index >= first && indices.length < plan.readingsNeeded; index -= 1) {
    const moment = moments[index] as Moment;
    if (!hasValue(series, index)) continue;
    if (latest !== null) {
      const gap = latest.atMs - moment.atMs;
      if (gap < latest.intervalMs - graceMs) continue;
      if (latest.apartMl !== null) {
        if (!drawnApart(moment, latest, latest.apartMl)) continue;
      } else if (gap > Math.max(largestGapMs, 2 * latest.intervalMs)) {
        shortfall = 'gap';
        break;
      }
    }
    indices.push(index);
    latest = moment;
  }
  return { indices: indices.reverse(), shortfall: indices.length < plan.readingsNeeded ? shortfall : null };
}
