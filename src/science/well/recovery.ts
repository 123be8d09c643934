import { type Refusal, refuse } from '../refusal.ts';
import { compareText } from '../units/decimal-arithmetic.ts';
import { compare, decimalFraction, dividedBy, type Fraction, fraction, minus, times } from '../units/fraction.ts';
import { unreadable } from '../units/unreadable.ts';

/** A share that recovered, exact. */
export interface Recovered {
  readonly share: Fraction;
  /** Rounded down to a tenth of a percent, so that what misses its limit never reads as if it reached it. */
  readonly percent: string;
}

function recovered(upper: Fraction, lower: Fraction): Recovered {
  const share = dividedBy(upper, lower);
  const tenths = times(share, fraction(1_000n));
  const down = tenths.over / tenths.under - (tenths.over < 0n && tenths.over % tenths.under !== 0n ? 1n : 0n);
  const size = down < 0n ? -down : down;
  return { share, percent: `${down < 0n ? '-' : ''}${size / 10n}.${size % 10n}` };
}

/**
 * How much of the DRAWDOWN has come back: (lowest - now) / (lowest - static), levels as depths below one point.
 *
 * One of two meanings of "80 % recovered"; the other is `recoveryOfColumn`, and they differ much in a deep well: of a
 * column of 20 ft pumped down by 10 ft, 6 ft back are 60 % of the drawdown and leave 80 % of the column.
 *
 * Source: ambiguity in use, for instance county file, doc 611837, page 13 ("80 % of static"); arithmetic.
 *
 * @example recoveryOfDrawdown({ staticFt: '20.00', lowestFt: '30.00', nowFt: '24.00' }) // percent: '60.0'
 */
export function recoveryOfDrawdown(given: {
  readonly staticFt: string;
  readonly lowestFt: string;
  readonly nowFt: string;
}): Recovered | Refusal {
  const unread = unreadable({ ...given });
  if (unread) return unread;
  const { staticFt, lowestFt, nowFt } = given;
  if (compareText(lowestFt, staticFt) <= 0)
    return refuse(
      `The lowest level ${lowestFt} ft is not below the static one ${staticFt} ft: there was no drawdown to recover from.`,
    );
  const lowest = decimalFraction(lowestFt);
  return recovered(minus(lowest, decimalFraction(nowFt)), minus(lowest, decimalFraction(staticFt)));
}

/**
 * How much of the standing WATER COLUMN is there again: (bottom - now) / (bottom - static).
 *
 * Source and the other meaning: see `recoveryOfDrawdown`.
 *
 * @example recoveryOfColumn({ staticFt: '20.00', bottomFt: '40.0', nowFt: '24.00' }) // percent: '80.0'
 */
export function recoveryOfColumn(given: {
  readonly staticFt: string;
  readonly bottomFt: string;
  readonly nowFt: string;
}): Recovered | Refusal {
  const unread = unreadable({ ...given });
  if (unread) return unread;
  const { staticFt, bottomFt, nowFt } = given;
  if (compareText(bottomFt, staticFt) <= 0)
    return refuse(`A bottom at ${bottomFt} ft is not below the static level ${staticFt} ft: the well had no column.`);
  if (compareText(bottomFt, nowFt) < 0)
    return refuse(
      `A level of ${nowFt} ft is below the bottom at ${bottomFt} ft: measure both again from the same point.`,
    );
  const bottom = decimalFraction(bottomFt);
  return recovered(minus(bottom, decimalFraction(nowFt)), minus(bottom, decimalFraction(staticFt)));
}

/** Whether a share reaches a limit in percent; exactly at it reaches it. */
export function reachesPercent({ share }: Recovered, percent: string): boolean {
  return compare(times(share, fraction(100n)), decimalFraction(percent)) >= 0;
}
