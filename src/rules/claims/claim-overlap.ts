import { type ClockCorrection, clockCorrection } from '../clock-correction.ts';
import { isTakenFromClock } from '../equipment/moment.ts';
import type { Claim } from './claim-record.ts';

type Measured = Claim['clock'];

interface Interval {
  readonly fromMs: number;
  readonly untilMs: number;
  readonly uncertaintyMs: number;
}

/**
 * Only times that a device took at the well come from its clock; the others were read from a watch or a sheet. A claim
 * keeps the clock of its capture, whoever ends it later: that clock says nothing of a time that came with the change.
 */
function correctionOf({ clock, rev, fields: { observed } }: Claim, ms: number, off: Measured): ClockCorrection {
  const isTaken = clock !== null && (rev === 1 || isTakenFromClock(clock, ms));
  return clockCorrection(observed.captured === 'at-the-well' && isTaken ? off : null);
}

/**
 * How far the clocks of two claims were off. Of one boot it is one clock: then the times stand as entered, since an end
 * goes with the clock of its beginning, each difference is measured anew, and a hand-over by one phone must not overlap by
 * that.
 */
function measured(a: Claim, b: Claim): readonly [Measured, Measured] {
  // one that changed since names the client of the change
  const isOneClient = a.client === b.client || a.rev > 1 || b.rev > 1;
  return a.clock?.boot === b.clock?.boot && isOneClient ? [null, null] : [a.clock, b.clock];
}

function intervalOf(claim: Claim, off: Measured): Interval {
  const { from, until } = claim.fields;
  const began = Date.parse(from);
  const start = correctionOf(claim, began, off);
  if (until === undefined)
    return { fromMs: began + start.addMs, untilMs: Number.POSITIVE_INFINITY, uncertaintyMs: start.uncertaintyMs };
  const ended = Date.parse(until);
  const end = correctionOf(claim, ended, off);
  return {
    fromMs: began + start.addMs,
    untilMs: ended + end.addMs,
    uncertaintyMs: Math.max(start.uncertaintyMs, end.uncertaintyMs),
  };
}

/**
 * Whether two claims stood at the same time: `possible` where they overlap by no more than the clocks may be off.
 * One that ends as the other begins does not overlap; one without an end overlaps all that comes after.
 */
export function overlapOf(a: Claim, b: Claim): 'none' | 'possible' | 'certain' {
  const [offA, offB] = measured(a, b);
  const [one, other] = [intervalOf(a, offA), intervalOf(b, offB)];
  const overlapMs = Math.min(one.untilMs, other.untilMs) - Math.max(one.fromMs, other.fromMs);
  if (overlapMs <= 0) return 'none';
  return overlapMs <= one.uncertaintyMs + other.uncertaintyMs ? 'possible' : 'certain';
}
