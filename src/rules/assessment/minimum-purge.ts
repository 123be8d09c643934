import { millionths } from '../../science/millionths.ts';
import { type MinimumPurge, minimumPurgeVolume } from '../../science/minimum-purge-volume.ts';
import { isRefusal } from '../../science/refusal.ts';
import type { Window } from './choose-window.ts';
import { type Drawdown, drawdownAt } from './drawdown.ts';
import type { PurgeRun } from './purge-run.ts';

export interface MinimumPurgeStanding {
  readonly status: 'met' | 'not-met' | 'not-known' | 'not-a-condition';
  readonly volume: MinimumPurge | null;
  readonly purgedMl: number | null;
  /** Counted since the level steadied, because the drawdown is beyond its limit. */
  readonly sinceSteady: boolean;
  /** What has to be recorded before it can be computed. */
  readonly lacks: readonly string[];
}

const NONE = { volume: null, purgedMl: null, sinceSteady: false, lacks: [] };

/** Water drawn up to the first reading from which on the level has been as steady as it is at the end. */
function drawnBeforeSteady(run: PurgeRun, endMs: number): number {
  const steadyWithin = millionths(run.plan.options.drawdown.steadyWithinFt);
  let highest = Number.POSITIVE_INFINITY;
  let lowest = Number.NEGATIVE_INFINITY;
  let steadyMs = endMs;
  for (const { atMs, depthFt } of run.pumpingLevels.toReversed()) {
    if (atMs > endMs) continue;
    highest = Math.min(highest, millionths(depthFt));
    lowest = Math.max(lowest, millionths(depthFt));
    if (lowest - highest > steadyWithin) break;
    steadyMs = atMs;
  }
  return run.purgedMl[run.moments.findIndex(({ atMs }) => atMs >= steadyMs)] ?? 0;
}

function lacking(named: Readonly<Record<string, string | number | null | undefined>>): string[] {
  return Object.keys(named).filter((name) => named[name] === null || named[name] === undefined);
}

function compute(run: PurgeRun, endMs: number, purged: number | null, drawdown: Drawdown): MinimumPurgeStanding {
  const casing = run.input.well?.fields.casingInsideDiameterIn;
  const tubing = run.setUp?.fields.tubingInsideDiameterIn;
  const length = run.setUp?.fields.tubingLengthFt;
  const { drawdownFt } = drawdown;
  if (casing === undefined || tubing === undefined || length === undefined || drawdownFt === null || purged === null) {
    const lacks = lacking({
      'inside diameter of the casing': casing,
      drawdown: drawdownFt,
      'inside diameter of the tubing': tubing,
      'length of the tubing': length,
      'volume purged, or the flow': purged,
    });
    return { ...NONE, status: 'not-known', lacks };
  }
  const volume = minimumPurgeVolume({
    casingInsideDiameterIn: Number(casing),
    drawdownFt: Number(drawdownFt),
    tubingInsideDiameterIn: Number(tubing),
    tubingLengthFt: Number(length),
  });
  if (isRefusal(volume)) return { ...NONE, status: 'not-known', lacks: [volume.refused] };
  const sinceSteady = drawdown.withinLimit === false;
  const purgedMl = sinceSteady ? purged - drawnBeforeSteady(run, endMs) : purged;
  return { status: purgedMl > volume.requiredMl ? 'met' : 'not-met', volume, purgedMl, sinceSteady, lacks: [] };
}

/**
 * The purge must exceed the stabilized drawdown volume plus the tubing volume (US EPA Region 1, SOP GW 0001, Rev. 2,
 * 1996, p. 6 of 13). Where the level steadied beyond its limit, that volume is drawn after it steadied (Rev. 3 and 4,
 * from memory).
 */
export function minimumPurgeAt(
  run: PurgeRun,
  end: number,
  whole: Window,
  drawdown: Drawdown = drawdownAt(run, end, whole),
): MinimumPurgeStanding {
  if (!run.plan.set.minimumPurge) return { ...NONE, status: 'not-a-condition' };
  return compute(run, run.moments[end]?.atMs ?? 0, run.purgedMl[end] ?? null, drawdown);
}
