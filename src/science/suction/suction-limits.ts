import { type Refusal, refuse } from '../refusal.ts';
import { compareText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

export interface SuctionLimit {
  readonly by: 'common-practice' | 'practical-table' | 'physics' | 'plan';
  readonly limitFt: string;
  /** Whether a lift of exactly the limit is still within it: a table's lift is, a boiling point is not. */
  readonly atLimit: 'within' | 'beyond';
}

export interface SuctionAnswer {
  /** Within every limit. */
  readonly serves: boolean;
  readonly least: SuctionLimit;
  readonly limits: readonly (SuctionLimit & { readonly passes: boolean })[];
}

function passes(liftFt: string, { limitFt, atLimit }: SuctionLimit): boolean {
  const beyond = compareText(liftFt, limitFt);
  return beyond < 0 || (beyond === 0 && atLimit === 'within');
}

/** The stricter of two limits; of equal ones the one that a lift of exactly the limit fails. */
function stricter(a: SuctionLimit, b: SuctionLimit): SuctionLimit {
  const order = compareText(b.limitFt, a.limitFt);
  return order < 0 || (order === 0 && b.atLimit === 'beyond') ? b : a;
}

/**
 * Whether water can be lifted by suction: the least of all limits decides, compared in decimal.
 *
 * Source: common practice, no source, that the least of practice and physics counts. Limits: the lift is from the
 * pumping level, not the static one, to the pump head: drawdown uses it up.
 *
 * @example suctionWithin('26.9', [{ by: 'common-practice', limitFt: '27', atLimit: 'beyond' }]) // serves: true
 */
export function suctionWithin(liftFt: string, limits: readonly SuctionLimit[]): SuctionAnswer | Refusal {
  const unread = unreadable({ liftFt });
  if (unread) return unread;
  const [first, ...others] = limits;
  if (first === undefined)
    return refuse(`No limit is given for a lift of ${liftFt} ft: give at least that of physics at the altitude.`);
  const answers = limits.map((limit) => ({ ...limit, passes: passes(liftFt, limit) }));
  return { serves: answers.every((one) => one.passes), least: others.reduce(stricter, first), limits: answers };
}
