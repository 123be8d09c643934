import { Temporal } from 'temporal-polyfill';
import type { RecordState } from '../protocol/record.ts';
import { OWED_UNTIL_DONE, type OwedGiven, type OwedTold, owedItems } from '../rules/equipment-told/owed-told.ts';
import { eventUnits } from '../store/read/event-units.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { unitFlags } from '../store/read/unit-flags.ts';
import { dayAtSite } from './day-at-site.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { equipmentOfUnits, sightOf } from './unit-equipment.ts';

/** So long before an event a meter was checked, or a pump cleaned and fitted, for it at the earliest. */
const BEFORE_EVENT = { days: 45 };

/** From when on what lies in no visit belongs to the event, for whichever of its days is asked. */
function sinceOf({ fields }: RecordState, day: string): string {
  const starts = String(fields.starts);
  return Temporal.PlainDate.from(starts < day ? starts : day)
    .subtract(BEFORE_EVENT)
    .toString();
}

/**
 * What the equipment of an event still owes at the end of a day, whether or not the crews said that it is over: units left
 * uncleaned, equipment blanks and closing checks that are missing, checks that are overdue. Looked at are the visits of the
 * event; what was asked about its units before then, and is not done, is stored.
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
  const ofEvent = { event, since: sinceOf(state, day) };
  const { records, facts, names } = await equipmentOfUnits(tx, units, { isDayClosed, ofEvent });
  const stored = await unitFlags(tx, units, OWED_UNTIL_DONE);
  const looked = new Set(
    Object.values(records).flatMap((its: readonly { readonly id: string }[]) => its.map(({ id }) => id)),
  );
  const items = owedItems(facts, { firm: tx.firm, units, day, stored, looked }, { names, sight: sightOf(feeds) });
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
