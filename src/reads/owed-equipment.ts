import { type OwedGiven, type OwedTold, owedItems } from '../rules/equipment-told/owed-told.ts';
import { eventUnits } from '../store/read/event-units.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { dayAtSite } from './day-at-site.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { equipmentOfUnits, sightOf } from './unit-equipment.ts';

/**
 * What the equipment of an event still owes at the end of a day, whether or not the crews said that it is over: units left
 * uncleaned, equipment blanks and closing checks that are missing, checks that are overdue.
 *
 * @throws Problem `record_missing` for an event that is not there, or that the reader does not see
 */
export async function owedEquipment(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
  given: OwedGiven & { readonly now: string },
): Promise<OwedTold> {
  const { state } = await inSight(tx, feeds, 'event', event);
  const { day, timeZone, from, until } = await dayAtSite(tx, String(state.fields.site), given);
  const units = await eventUnits(tx, { event, from, until });
  const isDayClosed = (_unit: string, one: string) => one <= day;
  const { facts, names } = await equipmentOfUnits(tx, units, { isDayClosed, withChecks: true });
  const items = owedItems(facts, units, day, { names, sight: sightOf(feeds) });
  return { event, day, timeZone, units: units.length, items };
}

export function readOwedEquipment(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  given: OwedGiven & { readonly now: string },
): Promise<OwedTold> {
  return inRead(pool, reader.firm, async (tx) => owedEquipment(tx, await feedsInSight(tx, reader), event, given));
}
