import { feetAtMostMetres } from '../../science/feet-metres.ts';
import { millionths, millionthsText, placesOf } from '../../science/millionths.ts';
import { percentRatio, type Ratio, ratioAtMost } from '../../science/ratio.ts';
import type { Window } from './choose-window.ts';
import type { PumpingLevel, PurgeRun } from './purge-run.ts';
import { drawdownBase, type WellGeometry } from './well-geometry.ts';

export interface Drawdown {
  readonly pumpingFt: string | null;
  readonly drawdownFt: string | null;
  /** Largest minus smallest pumping level within the window; null where there are not two. */
  readonly spreadFt: string | null;
  readonly steady: boolean | null;
  readonly withinLimit: boolean | null;
}

/** The difference of two decimal strings, exactly. */
function minus(a: string, b: string): string {
  return millionthsText(millionths(a) - millionths(b), Math.max(placesOf(a), placesOf(b)));
}

export function isAtMost(a: string, b: string): boolean {
  return millionths(a) <= millionths(b);
}

/** Largest minus smallest of the pumping levels between two moments; null where there are not two. */
export function levelSpread(run: PurgeRun, fromMs: number, toMs: number): string | null {
  let highest = Number.POSITIVE_INFINITY;
  let lowest = Number.NEGATIVE_INFINITY;
  let places = 0;
  let count = 0;
  for (let index = run.pumpingLevels.length - 1; index >= 0; index -= 1) {
    const { atMs, depthFt } = run.pumpingLevels[index] as PumpingLevel;
    if (atMs > toMs) continue;
    if (atMs < fromMs) break;
    const depth = millionths(depthFt);
    highest = Math.min(highest, depth);
    lowest = Math.max(lowest, depth);
    places = Math.max(places, placesOf(depthFt));
    count += 1;
  }
  return count < 2 ? null : millionthsText(lowest - highest, places);
}

function isAtMostPart(depthFt: string, percent: Ratio, base: number): boolean {
  return ratioAtMost({ difference: millionths(depthFt), base }, percent);
}

/** Whether a drawdown is within its limit, compared in the unit of the limit; null where that cannot be told. */
function withinLimit(run: PurgeRun, drawdownFt: string): boolean | null {
  const { limit, limitUnit } = run.plan.options.drawdown;
  if (limit === null) return null;
  if (limitUnit === 'ft') return isAtMost(drawdownFt, limit);
  if (limitUnit === 'm') return feetAtMostMetres(drawdownFt, limit);
  const base = drawdownBase(run.geometry as WellGeometry, limitUnit);
  return base === null ? null : isAtMostPart(drawdownFt, percentRatio(limit), base);
}

/** How far the level stood below the static one at a reading, and whether it was steady in the window up to there. */
export function drawdownAt(run: PurgeRun, end: number, whole: Window): Drawdown {
  const { steadyWithinFt } = run.plan.options.drawdown;
  const endMs = run.moments[end]?.atMs ?? Number.NEGATIVE_INFINITY;
  const fromMs = run.moments[whole.indices[0] ?? end]?.atMs ?? endMs;
  const pumpingFt = run.pumpingLevels.findLast(({ atMs }) => atMs <= endMs)?.depthFt ?? null;
  const drawdownFt = pumpingFt === null || run.staticFt === null ? null : minus(pumpingFt, run.staticFt);
  const spreadFt = levelSpread(run, fromMs, endMs);
  return {
    pumpingFt,
    drawdownFt,
    spreadFt,
    steady: spreadFt === null ? null : isAtMost(spreadFt, steadyWithinFt),
    withinLimit: drawdownFt === null ? null : withinLimit(run, drawdownFt),
  };
}
