import type { Refusal } from '../refusal.ts';
import { compareText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

export interface ReceivedCold {
  /** In degrees Celsius as read; null where none was recorded, however much ice there was. */
  readonly readingC: string | null;
  /** Null where the analyte need not be cooled. */
  readonly atMostC: string | null;
  readonly mayFreeze: boolean;
  /** Delivered on the day of collection, on ice, with cooling begun. */
  readonly isSameDayOnIce: boolean;
}

/**
 * `not-recorded`: the receipt is incomplete until the number is there; the sample has not failed. `below-zero`: it may have
 * frozen. `warm-same-day`: above the limit, and no fault where cooling had begun. `no-limit`: need not be cool.
 */
export type ReceiptTemperature = 'within' | 'too-warm' | 'warm-same-day' | 'below-zero' | 'no-limit' | 'not-recorded';

/**
 * What a temperature at receipt means for one container. The reading is not rounded: 6.4 is above 6.
 *
 * Source: 40 CFR 136.3, Table II, footnote 18 (limit read in a copy, Florida DEP, Table FS1000-4, 1 Mar 2014; wording from
 * memory); TNI, Standard Interpretation 10009, Oct 2009 (recorded even where there is ice; delivery on the same day).
 *
 * @example judgeReceiptTemperature({ readingC: '6.4', atMostC: '6', mayFreeze: false, isSameDayOnIce: false }) // 'too-warm'
 */
export function judgeReceiptTemperature(received: ReceivedCold): ReceiptTemperature | Refusal {
  const { readingC, atMostC, mayFreeze, isSameDayOnIce } = received;
  const unread = unreadable({ 'temperature in °C': readingC ?? undefined, 'limit in °C': atMostC ?? undefined });
  if (unread) return unread;
  if (readingC === null) return 'not-recorded';
  if (!mayFreeze && compareText(readingC, '0') < 0) return 'below-zero';
  if (atMostC === null) return 'no-limit';
  if (compareText(readingC, atMostC) <= 0) return 'within';
  return isSameDayOnIce ? 'warm-same-day' : 'too-warm';
}
