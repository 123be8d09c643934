import { percentRatio } from '../../science/ratio.ts';
import type { OccurrenceRecord, ReadingRecord } from '../assessment/assessment-input.ts';
import { isOtherFlow } from '../assessment/interruptions.ts';
import type { PurgeRun } from '../assessment/purge-run.ts';
import type { Placed } from '../assessment/timeline.ts';

type Entry = Placed<ReadingRecord> | Placed<OccurrenceRecord>;

function isType({ record }: Entry, ...types: readonly string[]): boolean {
  return 'type' in record.fields && types.includes(record.fields.type);
}

/**
 * Since when the pump draws as it does now, on the axis of the purge; minus infinity where nothing changed. A level from
 * before says nothing of how the water falls now. A change of flow that the plan holds to be none is none here either.
 */
export function rateSinceMs(run: PurgeRun): number {
  const share = percentRatio(run.plan.options.flowChangePercent);
  const entries: Entry[] = [...run.occurrences, ...run.readings];
  let [flow, since] = [null as string | null, Number.NEGATIVE_INFINITY];
  for (const entry of entries.toSorted((a, b) => a.atMs - b.atMs)) {
    const changed = isType(entry, 'flow-changed');
    const said = entry.record.fields.flowMlPerMin ?? null;
    const after = changed ? said : (said ?? flow);
    const known = flow !== null && after !== null;
    const same = flow !== null && after !== null && !isOtherFlow(flow, after, share);
    const other = !same && (changed || known);
    if (other || isType(entry, 'pump-stopped', 'pump-restarted')) since = entry.atMs;
    flow = after;
  }
  return since;
}
