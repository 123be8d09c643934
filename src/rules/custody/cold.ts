import { isRefusal } from '../../science/refusal.ts';
import { judgeReceiptTemperature, type ReceiptTemperature } from '../../science/samples/receipt-temperature.ts';
import { dayOf, minutesFrom } from './clocks.ts';
import type { Packed } from './cooler-facts.ts';

/** How cold a container is to be kept, and which document says so. */
export interface ColdLimit {
  /** Null: it need not be cool. */
  readonly atMostC: string | null;
  readonly mayFreeze: boolean;
  readonly source: string;
}

/**
 * `not-known`: the catalog holds none of its groups. `not-preserved`: it need not be cool with its preservative, which it is
 * said to be without; no document says how cold it then has to be.
 */
export type ColdJudgement = ReceiptTemperature | 'not-known' | 'not-preserved';

export interface JudgedCold {
  readonly packed: Packed;
  readonly readingC: string | null;
  readonly limit: ColdLimit | null;
  readonly judgement: ColdJudgement;
}

/** Of several groups of one bottle the strictest, and what one allows at first only where all of them do. */
export function coldLimit({ groups, collected }: Packed, at: string | null): ColdLimit | null {
  if (groups.length === 0) return null;
  const limits = groups.map(({ cooling }): ColdLimit => {
    const { first, atMostC, mayFreeze, source } = cooling;
    const isFirst =
      first !== undefined && collected !== null && at !== null && minutesFrom(collected, at) <= first.hours * 60;
    return { atMostC: isFirst ? first.atMostC : atMostC, mayFreeze, source };
  });
  const strictest = limits.toSorted(
    (a, b) => Number(a.atMostC ?? Number.POSITIVE_INFINITY) - Number(b.atMostC ?? Number.POSITIVE_INFINITY),
  );
  const [limit] = strictest;
  return limit ? { ...limit, mayFreeze: limits.every((one) => one.mayFreeze) } : null;
}

/** Whether any of its water has to be kept cool. */
export function needsCold(packed: Packed): boolean {
  return coldLimit(packed, null)?.atMostC != null;
}

/** Said to be without what its groups are preserved by. */
function isUnpreserved({ container, fill, groups }: Packed): boolean {
  const asked = groups.some(({ preservation }) => preservation.anyOf.length > 0);
  return asked && (fill?.fields.preserved === false || container.fields.preservatives?.length === 0);
}

export interface ColdReading {
  readonly readingC: string | null;
  readonly at: string;
  /** It came on the day of its collection, with ice. */
  readonly isSameDayOnIce: boolean;
}

/** By the calendar of the site. */
export function isCollectedOn({ collected }: Packed, at: string, timeZone: string | null): boolean {
  return collected !== null && dayOf(collected, timeZone) === dayOf(at, timeZone);
}

/** What a temperature means for one container. */
export function judgeCold(packed: Packed, { readingC, at, isSameDayOnIce }: ColdReading): JudgedCold {
  const limit = coldLimit(packed, at);
  if (!limit) return { packed, readingC, limit, judgement: 'not-known' };
  const { atMostC, mayFreeze } = limit;
  const judged = judgeReceiptTemperature({ readingC, atMostC, mayFreeze, isSameDayOnIce });
  const found = isRefusal(judged) ? 'not-recorded' : judged;
  const judgement = found === 'no-limit' && isUnpreserved(packed) ? 'not-preserved' : found;
  return { packed, readingC, limit, judgement };
}
