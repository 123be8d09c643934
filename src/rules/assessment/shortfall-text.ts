import type { Window } from './choose-window.ts';
import { itemAt } from './item-at.ts';
import type { PurgeRun } from './purge-run.ts';
import { volumeText } from './volume-text.ts';

/** A duration as a crew would say it: "5 min", "3 min 20 s". */
export function durationText(ms: number): string {
  const seconds = Math.ceil(ms / 1_000);
  const minutes = Math.floor(seconds / 60);
  const rest = seconds - minutes * 60;
  if (minutes === 0) return `${rest} s`;
  return rest === 0 ? `${minutes} min` : `${minutes} min ${rest} s`;
}

export function sinceText(run: PurgeRun, end: number): string {
  const { interruption } = itemAt(run.moments, end);
  return interruption === null ? '' : ` since ${interruption.what}`;
}

/** What must be drawn besides, where that is known: 950 mL are shown as such, whatever unit the crew reads. */
function drawnText({ volumes, moments }: PurgeRun, end: number): string {
  if (volumes === null || itemAt(moments, end).drawnMl === null) return '';
  const { beforeFirstMl, betweenMl } = volumes;
  const between = betweenMl === null ? '' : `, with ${volumeText(betweenMl)} drawn between them`;
  return beforeFirstMl === null ? between : `${between}, after the first ${volumeText(beforeFirstMl)}`;
}

/** Why the window of a purge is not full: how many readings count, how far apart they must be, and since when. */
export function shortfallText(run: PurgeRun, end: number, whole: Window): string {
  const { readingsNeeded, options } = run.plan;
  if (end < 0) return `No reading yet; ${readingsNeeded} are needed.`;
  const { intervalMs } = itemAt(run.moments, end);
  if (!Number.isFinite(intervalMs)) return 'No water moves at the flow that was recorded, so no reading counts.';
  const count = `${whole.indices.length} of ${readingsNeeded} readings`;
  if (whole.shortfall === 'gap') {
    const gap = durationText(Math.max(options.largestGapMs, 2 * intervalMs));
    return `${count} without a gap of more than ${gap} between them.`;
  }
  return `${count} at least ${durationText(intervalMs)} apart${drawnText(run, end)}${sinceText(run, end)}.`;
}
