import { placesOf, scaled, unscaled } from '../../science/decimal-text.ts';
import { feetAtMostMetres } from '../../science/feet-metres.ts';
import type { Window } from './choose-window.ts';
import type { PurgeRun } from './purge-run.ts';

export interface Drawdown {
  readonly pumpingFt: string | null;
  readonly drawdownFt: string | null;
  /** Largest minus smallest pumping level within the window; null where there are not two. */
  readonly spreadFt: string | null;
  readonly steady: boolean | null;
  readonly withinLimit: boolean | null;
}

/** The difference of two decimal strings, exactly. */
export function minus(a: string, b: string): string {
  const places = Math.max(placesOf(a), placesOf(b));
  return unscaled(scaled(a, places) - scaled(b, places), places);
}

export function isAtMost(a: string, b: string): boolean {
  const places = Math.max(placesOf(a), placesOf(b));
  return scaled(a, places) <= scaled(b, places);
}

/** Largest minus smallest of decimal strings; null where there are not two. */
export function spreadOf(figures: readonly string[]): string | null {
  if (figures.length < 2) return null;
  const places = Math.max(...figures.map(placesOf));
  const all = figures.map((figure) => scaled(figure, places));
  return unscaled(Math.max(...all) - Math.min(...all), places);
}

/** Levels at or after a moment and up to another. */
export function levelsBetween(run: PurgeRun, fromMs: number, toMs: number): string[] {
  return run.pumpingLevels.filter(({ atMs }) => atMs >= fromMs && atMs <= toMs).map(({ depthFt }) => depthFt);
}

/** How far the level stood below the static one at a reading, and whether it was steady in the window up to there. */
export function drawdownAt(run: PurgeRun, end: number, whole: Window): Drawdown {
  const { limit, limitUnit, steadyWithinFt } = run.plan.options.drawdown;
  const endMs = run.moments[end]?.atMs ?? Number.NEGATIVE_INFINITY;
  const fromMs = run.moments[whole.indices[0] ?? end]?.atMs ?? endMs;
  const pumpingFt = run.pumpingLevels.findLast(({ atMs }) => atMs <= endMs)?.depthFt ?? null;
  const drawdownFt = pumpingFt === null || run.staticFt === null ? null : minus(pumpingFt, run.staticFt);
  const spreadFt = spreadOf(levelsBetween(run, fromMs, endMs));
  const atMostLimit = limitUnit === 'ft' ? isAtMost : feetAtMostMetres;
  return {
    pumpingFt,
    drawdownFt,
    spreadFt,
    steady: spreadFt === null ? null : isAtMost(spreadFt, steadyWithinFt),
    withinLimit: drawdownFt === null || limit === null ? null : atMostLimit(drawdownFt, limit),
  };
}
