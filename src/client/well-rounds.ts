import { type HistoryGiven, type HistoryHere, historyHere } from '../rules/well-rounds/history-here.ts';
import { type LastRoundGiven, type LastRoundHere, lastRoundHere } from '../rules/well-rounds/last-round-here.ts';
import { type UnlikeGiven, type UnlikeHere, unlikeHere } from '../rules/well-rounds/unlike-here.ts';
import { type WellRecords, wellRecords } from '../rules/well-rounds/well-records.ts';
import type { ClientContext } from './context.ts';
import { viewAll } from './view.ts';

/** What is asked, without the time: the device knows it. */
type Asked<Given> = Omit<Given, 'at'>;

async function statesOf(context: ClientContext, kind: string) {
  return (await viewAll(context, kind)).map(({ record }) => record);
}

/** What this device has of the earlier rounds of a well: the feed of its site brought it. */
async function recordsHere(context: ClientContext, well: string): Promise<WellRecords> {
  return wellRecords(well, await statesOf(context, 'visit-summary'), await statesOf(context, 'measuring-point'));
}

/** What was done at this well last round, without a signal: the same answer as GET /v1/wells/ID/last-round. */
export async function lastRoundAt(
  context: ClientContext,
  well: string,
  asked: Asked<LastRoundGiven> = {},
): Promise<LastRoundHere> {
  return lastRoundHere(await recordsHere(context, well), { ...asked, at: context.time.wall() });
}

/** Whether what was just measured is unlike this well, without a signal: as GET /v1/wells/ID/unlike. */
export async function unlikeAt(context: ClientContext, well: string, asked: Asked<UnlikeGiven>): Promise<UnlikeHere> {
  return unlikeHere(await recordsHere(context, well), { ...asked, at: context.time.wall() });
}

/** What the rounds of this well gave of one quantity, without a signal: as GET /v1/wells/ID/rounds. */
export async function historyAt(
  context: ClientContext,
  well: string,
  asked: Asked<HistoryGiven>,
): Promise<HistoryHere> {
  return historyHere(await recordsHere(context, well), { ...asked, at: context.time.wall() });
}
