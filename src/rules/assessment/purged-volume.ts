import type { OccurrenceRecord, ReadingRecord } from './assessment-input.ts';
import type { Moment } from './moments.ts';
import type { Placed } from './timeline.ts';

const MS_PER_MIN = 60_000;

/** Whether the pump stood still somewhere between two readings: then nothing is taken as pumped between them. */
function stoodStill(occurrences: readonly Placed<OccurrenceRecord>[], fromMs: number, toMs: number): boolean {
  return occurrences.some(
    ({ record, atMs }) =>
      atMs > fromMs &&
      atMs <= toMs &&
      (record.fields.type === 'pump-stopped' || record.fields.type === 'pump-restarted'),
  );
}

/**
 * Water drawn up to each reading. Where the crew read a volume, that volume; otherwise what was drawn up to the reading
 * before plus its flow times the time since. What came before the first reading is unknown and left out, so the figure
 * is never too large.
 */
export function purgedVolumes(
  readings: readonly Placed<ReadingRecord>[],
  occurrences: readonly Placed<OccurrenceRecord>[],
  moments: readonly Moment[],
): (number | null)[] {
  const volumes: (number | null)[] = [];
  let drawn: number | null = null;
  let before: Placed<ReadingRecord> | null = null;
  readings.forEach((reading, index) => {
    const { purgedMl } = reading.record.fields;
    const flow = moments[index]?.flow ?? null;
    if (purgedMl !== undefined) drawn = Number(purgedMl);
    else if (before === null || stoodStill(occurrences, before.atMs, reading.atMs)) drawn ??= flow === null ? null : 0;
    else if (flow !== null) drawn = (drawn ?? 0) + (Number(flow) * (reading.atMs - before.atMs)) / MS_PER_MIN;
    volumes.push(drawn);
    before = reading;
  });
  return volumes;
}
