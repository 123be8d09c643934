import { median } from '../../science/history/median.ts';
import type { Moment } from '../assessment/moments.ts';
import type { PurgeRun } from '../assessment/purge-run.ts';

/** How far the crew is looked ahead for. Common practice, no source. */
export const DEFAULT_HORIZON_MIN = 60;
/** Beyond this nobody waits at a well. Common practice, no source. */
export const LONGEST_HORIZON_MIN = 480;

/** Readings that a forecast supposes: at the pace of the crew, but no closer than the criteria let them count. */
export interface ReadingsToCome {
  readonly intervalMs: number;
  /** Times on the axis of the purge. */
  readonly timesMs: readonly number[];
}

function paceMs(run: PurgeRun): number {
  const gaps = run.moments.slice(1).map(({ atMs }, at) => atMs - (run.moments[at] as Moment).atMs);
  return gaps.length === 0 ? 0 : median(gaps);
}

/** How long the pump takes for what must be drawn between two readings; 0 where nothing must be, or no flow is known. */
function drawingMs({ apartMl, flow }: Moment): number {
  return apartMl === null || flow === null || Number(flow) <= 0 ? 0 : (apartMl / Number(flow)) * 60_000;
}

/** The least time between two readings that both count; nothing where no water moves. */
function neededMs(latest: Moment | undefined): number {
  if (latest === undefined || !Number.isFinite(latest.intervalMs)) return 0;
  return Math.max(latest.intervalMs, drawingMs(latest));
}

/** @param horizonMin how far it is looked ahead, in minutes after the latest reading; at least to the next one */
export function readingsToCome(run: PurgeRun, horizonMin: number): ReadingsToCome {
  const latest = run.moments.at(-1);
  const intervalMs = Math.max(paceMs(run), neededMs(latest), 60_000);
  const count = Math.max(1, Math.floor((horizonMin * 60_000) / intervalMs));
  const timesMs = Array.from({ length: count }, (_, step) => (latest?.atMs ?? 0) + (step + 1) * intervalMs);
  return { intervalMs, timesMs };
}
