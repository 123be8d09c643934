import { readingIntervalMs, turnoverTimeMs } from '../../science/turnover-time.ts';
import type { OccurrenceRecord, ReadingRecord } from './assessment-input.ts';
import { type Interruption, InterruptionWatch } from './interruptions.ts';
import type { ReadPlan } from './read-plan.ts';
import type { Series } from './series.ts';
import type { Placed } from './timeline.ts';

/** What holds at one reading, whatever is measured. */
export interface Moment {
  readonly atMs: number;
  /** Least time since the reading of the window before this one, without grace. Infinity where no water moves. */
  readonly intervalMs: number;
  readonly flowCellMl: string | null;
  /** The flow of the reading, or the last one known before it. */
  readonly flow: string | null;
  /** The latest interruption before it. */
  readonly interruption: Interruption | null;
  /** The first reading since then that counts; a later one than this where none does yet. */
  readonly firstCounted: number;
  /** Water drawn up to it, where a volume must be drawn and it is known. */
  readonly drawnMl: number | null;
  /** What must be drawn since the reading of the window before this one; null where nothing is asked for or known. */
  readonly apartMl: number | null;
}

/** Asks for the turnover time only where cell or flow change: most purges have one of each. */
function turnoverTimes(plan: ReadPlan): (cell: string | null, flow: string | null) => number | null {
  if (plan.options.turnover === 'not-required') return () => null;
  const cellVolumes = Number(plan.set.turnoverCellVolumes?.value ?? '1');
  let last = { cell: '', flow: '', ms: 0 };
  return (cell, flow) => {
    if (cell === null || flow === null) return null;
    if (cell !== last.cell || flow !== last.flow) last = { cell, flow, ms: turnoverTimeMs(cell, flow) * cellVolumes };
    return last.ms;
  };
}

type Entry = Placed<ReadingRecord> | Placed<OccurrenceRecord>;

function isReading(entry: Entry): entry is Placed<ReadingRecord> {
  return entry.record.kind === 'reading';
}

/** Whether a reading is far enough from the interruption before it to count. */
function counts(plan: ReadPlan, index: number, atMs: number, intervalMs: number, interruption: Interruption): boolean {
  if (interruption.uncounted >= index) return false;
  if (plan.options.afterInterruption === 'next-reading') return true;
  return atMs - interruption.atMs >= intervalMs - plan.options.graceMs;
}

/**
 * Walks once through the readings and occurrences of a purge and says what holds at each reading.
 *
 * @param series the parameters, by which a swapped meter shows
 * @param cellOf the volume of the flow cell, by the meter that is built into it
 */
export function momentsOf(
  plan: ReadPlan,
  entries: readonly Entry[],
  series: readonly Series[],
  cellOf: (meter: string | undefined) => string | null,
): Moment[] {
  const watch = new InterruptionWatch(plan.options.flowChangePercent, series);
  const turnoverOf = turnoverTimes(plan);
  const moments: Moment[] = [];
  let interruption: Interruption | null = null;
  let firstCounted = 0;
  for (const entry of entries) {
    if (!isReading(entry)) {
      watch.occurrence(entry);
      continue;
    }
    const { atMs } = entry;
    const index = moments.length;
    watch.reading(entry, index);
    const { flow } = watch;
    const flowCellMl = cellOf(entry.record.fields.meter);
    const intervalMs = readingIntervalMs(plan.options.minimumIntervalMs, turnoverOf(flowCellMl, flow));
    if (watch.latest !== interruption) firstCounted = Number.MAX_SAFE_INTEGER;
    interruption = watch.latest;
    if (firstCounted > index && interruption !== null && counts(plan, index, atMs, intervalMs, interruption)) {
      firstCounted = index;
    }
    moments.push({ atMs, intervalMs, flowCellMl, flow, interruption, firstCounted, drawnMl: null, apartMl: null });
  }
  return moments;
}
