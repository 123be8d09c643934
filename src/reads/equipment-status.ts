import { z } from 'zod';
import { UNIT_SHARING, UNIT_TYPES } from '../protocol/kinds/unit.ts';
import { UNIT_STATES } from '../protocol/kinds/unit-state.ts';
import { LIMITS } from '../protocol/limits.ts';
import { id, instant } from '../protocol/primitives.ts';
import { recordId } from '../rules/equipment-told/told-fields.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { type UnitHolder, unitHolders, unitsPage } from '../store/read/unit-holders.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { groupBy } from './group-by.ts';
import { inSight } from './in-sight.ts';
import { isId, readListCursor, writeListCursor } from './list-cursor.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { unitsNow } from './unit-now.ts';

export const equipmentStatusInput = z.strictObject({
  event: id.optional().describe('Only units that were set up, used or signed out in it'),
  limit: z.coerce.number().int().min(1).max(LIMITS.listPageItems).default(LIMITS.listPageItems),
  cursor: z.string().max(1_000).optional().describe('`next` of the part before'),
});
export type EquipmentStatusGiven = z.output<typeof equipmentStatusInput>;

export const holderOutput = z.strictObject({
  signOut: recordId('sign-out'),
  crew: recordId('crew'),
  crewName: z.string(),
  from: instant.describe('In UTC'),
});
export type HolderTold = z.output<typeof holderOutput>;

export const equipmentStatusOutput = z.strictObject({
  items: z.array(
    z.strictObject({
      unit: recordId('unit'),
      label: z.string(),
      type: z.enum(UNIT_TYPES),
      use: z.enum(UNIT_SHARING),
      state: z.enum(UNIT_STATES).nullable().describe('Null where nothing was derived of it yet'),
      since: instant.nullable(),
      sentence: z.string().nullable(),
      well: recordId('well').nullable(),
      wellName: z.string().nullable(),
      holders: z.array(holderOutput).describe('Who has it: two crews where both say so'),
    }),
  ),
  next: z.string().nullable(),
});
export type EquipmentStatus = z.output<typeof equipmentStatusOutput>;

function told({ signOut, crew, crewName, from }: UnitHolder): HolderTold {
  return { signOut, crew, crewName, from };
}

/** Who has each of these units. */
export async function holdersOf(tx: ReadTx, units: readonly string[]): Promise<HolderTold[][]> {
  const ofUnit = groupBy(await unitHolders(tx, units), ({ unit }) => unit);
  return units.map((unit) => (ofUnit.get(unit) ?? []).map(told));
}

/**
 * Units with where they stand and who has them, in as many statements whatever their number and history.
 *
 * @throws Problem `record_missing` for an event that the reader does not see
 */
export async function equipmentStatus(
  tx: ReadTx,
  feeds: readonly string[] | null,
  { event, limit, cursor }: EquipmentStatusGiven,
): Promise<EquipmentStatus> {
  if (event !== undefined) await inSight(tx, feeds, 'event', event);
  const after = readListCursor('equipment-status', cursor, isId);
  const rows = await unitsPage(tx, { event: event ?? null, after, limit: limit + 1 });
  const page = rows.slice(0, limit);
  const ids = page.map((row) => row.id);
  const states = await unitsNow(tx, ids);
  const holders = await holdersOf(tx, ids);
  const items = page.map(({ id: unit, label, type, use }, at) => {
    const { state = null, since = null, sentence = null, well = null, wellName = null } = states[at] ?? {};
    const its = { state, since, sentence, well, wellName, holders: holders[at] ?? [] };
    return { unit, label, type, use, ...its } as EquipmentStatus['items'][number];
  });
  const last = page.at(-1);
  return { items, next: rows.length > limit && last ? writeListCursor('equipment-status', last.id) : null };
}

export function readEquipmentStatus(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  given: EquipmentStatusGiven,
): Promise<EquipmentStatus> {
  return inRead(pool, reader.firm, async (tx) => equipmentStatus(tx, await feedsInSight(tx, reader), given));
}
