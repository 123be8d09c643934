import { Problem } from '../protocol/problem.ts';
import { type FillOrderGiven, type FillOrderTold, fillOrderTold } from '../rules/samples/fill-order/fill-order-told.ts';
import { type FillRecords, fillRecords } from '../rules/samples/fill-order/fill-records.ts';
import {
  type ShortWaterGiven,
  type ShortWaterTold,
  shortWaterTold,
} from '../rules/samples/short-water/short-water-told.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { visitFillStates } from '../store/read/visit-fill-states.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

/**
 * The containers of a visit, with what their order is told from.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for a visit that is not there, is void, or that the reader does not see
 */
async function visitFills(tx: ReadTx, feeds: readonly string[] | null, id: string): Promise<FillRecords> {
  const { state } = await inSight(tx, feeds, 'visit', id);
  if (state.voided !== null) throw new Problem('record_missing', `visit ${id} is void: nothing is filled at it`);
  return fillRecords(state, await visitFillStates(tx, id));
}

export async function visitFillOrder(
  tx: ReadTx,
  feeds: readonly string[] | null,
  id: string,
  given: FillOrderGiven,
): Promise<FillOrderTold> {
  return fillOrderTold(await visitFills(tx, feeds, id), given);
}

export async function visitShortWater(
  tx: ReadTx,
  feeds: readonly string[] | null,
  id: string,
  given: ShortWaterGiven,
): Promise<ShortWaterTold> {
  return shortWaterTold(await visitFills(tx, feeds, id), given);
}

type Pool = Pick<ReadContext, 'pool'>;

export function readFillOrder(
  { pool }: Pool,
  reader: Reader,
  id: string,
  given: FillOrderGiven,
): Promise<FillOrderTold> {
  return inRead(pool, reader.firm, async (tx) => visitFillOrder(tx, await feedsInSight(tx, reader), id, given));
}

export function readShortWater(
  { pool }: Pool,
  reader: Reader,
  id: string,
  given: ShortWaterGiven,
): Promise<ShortWaterTold> {
  return inRead(pool, reader.firm, async (tx) => visitShortWater(tx, await feedsInSight(tx, reader), id, given));
}
