import type { ChecksOfMeter, ChecksOfMeterGiven } from '../rules/meter-told/checks-of-meter.ts';
import type { VisitMeterChecks } from '../rules/meter-told/meter-checks-of-visit.ts';
import type { MeterUsable, MeterUsableGiven } from '../rules/meter-told/meter-usable.ts';
import { inRead } from '../store/read/transaction.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { checksOfOneMeter, mayMeterBeUsed, meterChecksOfVisit } from './meter-checks.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

type Context = Pick<ReadContext, 'pool'>;

export function readMeterUsable(
  { pool }: Context,
  reader: Reader,
  unit: string,
  given: MeterUsableGiven & { readonly at: string },
): Promise<MeterUsable> {
  return inRead(pool, reader.firm, async (tx) => mayMeterBeUsed(tx, await feedsInSight(tx, reader), unit, given));
}

export function readChecksOfMeter(
  { pool }: Context,
  reader: Reader,
  unit: string,
  given: ChecksOfMeterGiven & { readonly until: string },
): Promise<ChecksOfMeter> {
  return inRead(pool, reader.firm, async (tx) => checksOfOneMeter(tx, await feedsInSight(tx, reader), unit, given));
}

export function readVisitMeterChecks({ pool }: Context, reader: Reader, visit: string): Promise<VisitMeterChecks> {
  return inRead(pool, reader.firm, async (tx) => meterChecksOfVisit(tx, await feedsInSight(tx, reader), visit));
}
