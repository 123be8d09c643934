import type { StampedClock } from '../../../protocol/record.ts';
import { clockCorrection } from '../../clock-correction.ts';

export interface Timed {
  readonly client: string | null;
  readonly rev: number;
  readonly clock: StampedClock | null;
  /** With offset, as entered. */
  readonly at: string;
}

const MINUTE_MS = 60_000;
/** A time that is further from the device's wall clock than this was typed, not taken from the clock. */
const TAKEN_FROM_CLOCK_MS = 15 * MINUTE_MS;

function correctionOf({ clock, at }: Timed) {
  if (clock === null || Math.abs(Date.parse(clock.wall) - Date.parse(at)) > TAKEN_FROM_CLOCK_MS)
    return clockCorrection(null);
  return clockCorrection(clock);
}

function wholeMinute(ms: number): number {
  return Math.floor(ms / MINUTE_MS) * MINUTE_MS;
}

/**
 * Whether one time lies before the other beyond doubt. Labels are written to the minute, so that seconds decide
 * nothing. Times of one device share its clock; between devices the clocks are corrected and their doubt counts. A
 * clock of an amended record is that of the amendment and says nothing of the time, which then stands as entered.
 */
export function surelyBefore(a: Timed, b: Timed): boolean {
  const asEntered = a.client === b.client || a.rev > 1 || b.rev > 1;
  const [first, second] = asEntered
    ? [clockCorrection(null), clockCorrection(null)]
    : [correctionOf(a), correctionOf(b)];
  const doubtMs = first.uncertaintyMs + second.uncertaintyMs;
  const earlier = wholeMinute(Date.parse(a.at) + first.addMs);
  return earlier + doubtMs < wholeMinute(Date.parse(b.at) + second.addMs);
}
