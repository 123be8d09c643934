import type { StampedClock } from '../protocol/record.ts';

/** A difference up to this is ordinary for phones and corrects nothing. Common practice, no source. */
export const NOTED_DIFFERENCE_MS = 10 * 60_000;

export interface ClockCorrection {
  /** Add it to a time of the device. */
  readonly addMs: number;
  /** By how much the corrected time may still be off, either way. */
  readonly uncertaintyMs: number;
}

/**
 * The difference as it was measured, whatever its size: for times that nobody entered, or that are compared with those of
 * other clocks. A difference of nothing at all was not measured: the device did not say what its clock showed as it sent.
 *
 * @param unmeasuredMs by how much a clock may be off that nobody measured
 */
export function measuredCorrection(
  clock: Pick<StampedClock, 'differenceMs' | 'uncertaintyMs'> | null,
  unmeasuredMs: number,
): ClockCorrection {
  if (clock === null || clock.differenceMs === 0) return { addMs: 0, uncertaintyMs: unmeasuredMs };
  return { addMs: clock.differenceMs, uncertaintyMs: clock.uncertaintyMs };
}

/**
 * What a device's clock makes of a time that was taken from it. A large measured difference corrects the time; a small
 * one leaves it as entered and counts as uncertainty.
 */
export function clockCorrection(clock: Pick<StampedClock, 'differenceMs' | 'uncertaintyMs'> | null): ClockCorrection {
  if (clock === null) return { addMs: 0, uncertaintyMs: 0 };
  const off = Math.abs(clock.differenceMs);
  if (off > NOTED_DIFFERENCE_MS) return { addMs: clock.differenceMs, uncertaintyMs: clock.uncertaintyMs };
  return { addMs: 0, uncertaintyMs: clock.uncertaintyMs + off };
}
