import { minimumPurgeVolume } from '../../science/minimum-purge-volume.ts';
import { isRefusal } from '../../science/refusal.ts';
import type { Window } from './choose-window.ts';
import { type Drawdown, drawdownAt, isAtMost, spreadOf } from './drawdown.ts';
import type { PurgeRun } from './purge-run.ts';

export interface MinimumPurgeStanding {
  readonly status: 'met' | 'not-met' | 'not-known' | 'not-a-condition';
  readonly requiredMl?: number;
  readonly drawdownMl?: number;
  readonly tubingMl?: number;
  readonly purgedMl?: number;
  /** Counted since the level steadied, because the drawdown is beyond its limit. */
  readonly sinceSteady?: boolean;
  /** What has to be recorded before it can be computed. */
  readonly lacks?: readonly string[];
}

type Given = Parameters<typeof minimumPurgeVolume>[0];

/** What the volume is computed from, with the names of what nobody recorded. */
function given(run: PurgeRun, drawdownFt: string | null): Partial<Record<keyof Given, number>> {
  const { setUp, input } = run;
  const texts: Record<keyof Given, string | null | undefined> = {
    casingInsideDiameterIn: input.well?.fields.casingInsideDiameterIn,
    drawdownFt,
    tubingInsideDiameterIn: setUp?.fields.tubingInsideDiameterIn,
    tubingLengthFt: setUp?.fields.tubingLengthFt,
  };
  return Object.fromEntries(
    Object.entries(texts).flatMap(([name, text]) => (text == null ? [] : [[name, Number(text)]])),
  );
}

const NAMES: Readonly<Record<keyof Given, string>> = {
  casingInsideDiameterIn: 'inside diameter of the casing',
  drawdownFt: 'drawdown',
  tubingInsideDiameterIn: 'inside diameter of the tubing',
  tubingLengthFt: 'length of the tubing',
};

function lacking(partial: Partial<Record<keyof Given, number>>): string[] {
  const names = Object.keys(NAMES) as (keyof Given)[];
  return names.filter((name) => partial[name] === undefined).map((name) => NAMES[name]);
}

/** Water drawn up to the first reading from which on the level has been as steady as it is at the end. */
function drawnBeforeSteady(run: PurgeRun, end: number): number {
  const endMs = run.moments[end]?.atMs ?? 0;
  const levels = run.pumpingLevels.filter(({ atMs }) => atMs <= endMs);
  let first = levels.length - 1;
  for (let index = first - 1; index >= 0; index -= 1) {
    const spread = spreadOf(levels.slice(index).map(({ depthFt }) => depthFt));
    if (spread === null || !isAtMost(spread, run.plan.options.drawdown.steadyWithinFt)) break;
    first = index;
  }
  const steadyMs = levels[first]?.atMs ?? endMs;
  const reading = run.moments.findIndex(({ atMs }) => atMs >= steadyMs);
  return run.purgedMl[reading] ?? 0;
}

function drawn(run: PurgeRun, end: number, drawdown: Drawdown) {
  const purged = run.purgedMl[end] ?? null;
  const sinceSteady = drawdown.withinLimit === false;
  if (purged === null || !sinceSteady) return { purged, sinceSteady };
  return { purged: purged - drawnBeforeSteady(run, end), sinceSteady };
}

/**
 * The purge must exceed the stabilized drawdown volume plus the tubing volume (US EPA Region 1, SOP GW 0001, Rev. 2,
 * 1996, p. 6 of 13). Where the level steadied beyond its limit, that volume is drawn after it steadied (Rev. 3 and 4,
 * from memory).
 */
export function minimumPurgeAt(run: PurgeRun, end: number, whole: Window): MinimumPurgeStanding {
  if (!run.plan.set.minimumPurge) return { status: 'not-a-condition' };
  const drawdown = drawdownAt(run, end, whole);
  const partial = given(run, drawdown.drawdownFt);
  const { purged, sinceSteady } = drawn(run, end, drawdown);
  const lacks = [...lacking(partial), ...(purged === null ? ['volume purged, or the flow'] : [])];
  if (lacks.length > 0 || purged === null) return { status: 'not-known', lacks };
  const volume = minimumPurgeVolume(partial as Given);
  if (isRefusal(volume)) return { status: 'not-known', lacks: [volume.refused] };
  return { status: purged > volume.requiredMl ? 'met' : 'not-met', ...volume, purgedMl: purged, sinceSteady };
}
