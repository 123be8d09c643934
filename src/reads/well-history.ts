import { type HistoryGiven, type HistoryHere, historyHere } from '../rules/well-rounds/history-here.ts';
import { type LastRoundGiven, type LastRoundHere, lastRoundHere } from '../rules/well-rounds/last-round-here.ts';
import { type UnlikeGiven, type UnlikeHere, unlikeHere } from '../rules/well-rounds/unlike-here.ts';
import { MOST_VISITS, type WellRecords, wellRecords } from '../rules/well-rounds/well-records.ts';
import { recordStates } from '../store/read/record-states.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { wellRoundIds } from '../store/read/well-rounds.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { groupBy } from './group-by.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { wellInSight } from './well-in-sight.ts';

/**
 * What is stored of the earlier rounds of each of these wells. It lives in the feed of their site: who may read a well
 * may read it.
 *
 * @param wells that the reader may read
 */
export async function recordsOfWells(tx: ReadTx, wells: readonly string[]): Promise<WellRecords[]> {
  const rows = await recordStates(tx, await wellRoundIds(tx, wells, MOST_VISITS), null);
  const states = rows.map(({ state }) => state).toSorted((a, b) => (a.id < b.id ? -1 : 1));
  const ofWell = groupBy(states, ({ fields }) => String(fields.well));
  return wells.map((well) => {
    const own = ofWell.get(well) ?? [];
    const ofKind = (name: string) => own.filter(({ kind }) => kind === name);
    return wellRecords(well, ofKind('visit-summary'), ofKind('measuring-point'));
  });
}

/** @throws Problem `record_missing` for a well that is not there, or that the reader does not follow */
function recordsOf({ pool }: ReadContext, reader: Reader, id: string): Promise<WellRecords> {
  return inRead(pool, reader.firm, async (tx) => {
    const well = await wellInSight(tx, await feedsInSight(tx, reader), id);
    const [records] = await recordsOfWells(tx, [well.id]);
    return records ?? { summaries: [], points: [] };
  });
}

/** What was done at this well last round. */
export async function wellLastRound(
  ctx: ReadContext,
  reader: Reader,
  well: string,
  given: LastRoundGiven,
): Promise<LastRoundHere> {
  return lastRoundHere(await recordsOf(ctx, reader, well), given);
}

/** Whether what was just measured is unlike what earlier rounds gave here. */
export async function wellUnlike(
  ctx: ReadContext,
  reader: Reader,
  well: string,
  given: UnlikeGiven,
): Promise<UnlikeHere> {
  return unlikeHere(await recordsOf(ctx, reader, well), given);
}

/** What the rounds of this well gave of one quantity, and whether it rises or falls. */
export async function wellHistory(
  ctx: ReadContext,
  reader: Reader,
  well: string,
  given: HistoryGiven,
): Promise<HistoryHere> {
  return historyHere(await recordsOf(ctx, reader, well), given);
}
