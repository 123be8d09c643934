import { clockCorrection } from '../clock-correction.ts';
import type { Claim } from './claim-record.ts';

interface Interval {
  readonly fromMs: number;
  readonly untilMs: number;
  readonly uncertaintyMs: number;
}

/** Only times that a device took at the well come from its clock; the others were read from a watch or a sheet. */
function intervalOf(claim: Claim): Interval {
  const { from, until, observed } = claim.fields;
  const { addMs, uncertaintyMs } = clockCorrection(observed.captured === 'at-the-well' ? claim.clock : null);
  return {
    fromMs: Date.parse(from) + addMs,
    untilMs: until === undefined ? Number.POSITIVE_INFINITY : Date.parse(until) + addMs,
    uncertaintyMs,
  };
}

/**
 * Whether two claims stood at the same time: `possible` where they overlap by no more than the clocks may be off.
 * One that ends as the other begins does not overlap; one without an end overlaps all that comes after.
 */
export function overlapOf(a: Claim, b: Claim): 'none' | 'possible' | 'certain' {
  const [one, other] = [intervalOf(a), intervalOf(b)];
  const overlapMs = Math.min(one.untilMs, other.untilMs) - Math.max(one.fromMs, other.fromMs);
  if (overlapMs <= 0) return 'none';
  return overlapMs <= one.uncertaintyMs + other.uncertaintyMs ? 'possible' : 'certain';
}
