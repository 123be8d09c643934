import type { OccurrenceRecord, ReadingRecord } from './assessment-input.ts';
import type { Moment } from './moments.ts';
import type { Placed } from './timeline.ts';

const MS_PER_MIN = 60_000;

/** The moments at which the pump stopped or ran again: between two readings around one nothing is taken as pumped. */
function standstills(occurrences: readonly Placed<OccurrenceRecord>[]): number[] {
  return occurrences
    .filter(({ record: { fields } }) => fields.type === 'pump-stopped' || fields.type === 'pump-restarted')
    .map(({ atMs }) => atMs);
}

/** What a flow draws between two readings; null where the flow is not known. */
function drawnBetween(flow: string | null, fromMs: number, toMs: number, stills: readonly number[]): number | null {
  if (stills.some((atMs) => atMs > fromMs && atMs <= toMs)) return 0;
  return flow === null ? null : (Number(flow) * (toMs - fromMs)) / MS_PER_MIN;
}

/**
 * Water drawn up to each reading. Where the crew read a volume, that volume; otherwise what was drawn up to the reading
 * before plus its flow times the time since. What came before the first reading is unknown and left out, so the figure
 * is never too large. Null while neither a volume nor a flow was read.
 */
export function purgedVolumes(
  readings: readonly Placed<ReadingRecord>[],
  occurrences: readonly Placed<OccurrenceRecord>[],
  moments: readonly Moment[],
): (number | null)[] {
  const stills = standstills(occurrences);
  const volumes: (number | null)[] = [];
  let drawn: number | null = null;
  for (let index = 0; index < readings.length; index += 1) {
    const { record, atMs } = readings[index] as Placed<ReadingRecord>;
    const flow = moments[index]?.flow ?? null;
    const { purgedMl } = record.fields;
    const since = drawnBetween(flow, readings[index - 1]?.atMs ?? atMs, atMs, stills);
    if (purgedMl !== undefined) drawn = Number(purgedMl);
    else if (since !== null) drawn = (drawn ?? 0) + since;
    volumes.push(drawn);
  }
  return volumes;
}
