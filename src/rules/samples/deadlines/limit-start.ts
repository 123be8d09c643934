import type { RecordState } from '../../../protocol/record.ts';
import { instantMs } from '../../../science/instant-ms.ts';
import { NOTED_DIFFERENCE_MS } from '../../clock-correction.ts';

const MINUTE_MS = 60_000;

/** From when the limits of what was collected count. */
export interface LimitStart {
  /** As recorded or, where that cannot be, when it was recorded by the clock of the server. */
  readonly countsFrom: string;
  /** By how many minutes the recorded time is later than that. */
  readonly laterMinutes: number | null;
  /** By how many minutes the clock of the device was behind; the recorded time, which is the earlier one, counts then. */
  readonly behindMinutes: number | null;
}

/**
 * Nothing is recorded before it is done: a time that is later than its record, by the clock of the server, comes of a
 * clock that was ahead or of a slip of the pen, and the limit counts from the record. So no wrong clock makes a limit
 * end later. An amended time stands as entered: the stamp is not of the amendment.
 *
 * Source: arithmetic of the records; what is ordinary for clocks is common practice, no source.
 */
export function limitStart({ rev, clock }: Pick<RecordState, 'rev' | 'clock'>, at: string): LimitStart {
  const none = { countsFrom: at, laterMinutes: null, behindMinutes: null };
  if (clock === null || rev > 1) return none;
  const minutes = (ms: number) => Math.floor(ms / MINUTE_MS);
  const recordedMs = instantMs(clock.wall) + clock.differenceMs;
  const laterMs = instantMs(at) - recordedMs;
  if (laterMs > NOTED_DIFFERENCE_MS) {
    const countsFrom = `${new Date(minutes(recordedMs) * MINUTE_MS).toISOString().slice(0, 19)}Z`;
    return { ...none, countsFrom, laterMinutes: minutes(laterMs) };
  }
  return clock.differenceMs > NOTED_DIFFERENCE_MS ? { ...none, behindMinutes: minutes(clock.differenceMs) } : none;
}
