import { kindNamed } from '../protocol/kinds-by-name.ts';
import { type HistoryGiven, type HistoryHere, historyHere } from '../rules/well-rounds/history-here.ts';
import { type LastRoundGiven, type LastRoundHere, lastRoundHere } from '../rules/well-rounds/last-round-here.ts';
import { type UnlikeGiven, type UnlikeHere, unlikeHere } from '../rules/well-rounds/unlike-here.ts';
import { MOST_VISITS, type WellRecords, wellRecords } from '../rules/well-rounds/well-records.ts';
import { recordsById } from '../store/read/records.ts';
import { wellRoundIds } from '../store/read/well-rounds.ts';
import { visibleRecord } from './one-record.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';
import { visibleFeeds } from './visible-feeds.ts';

/**
 * What is stored of the earlier rounds of a well. They live in the feed of its site: who may read the well may read them.
 *
 * @throws Problem `record_missing` for a well that is not there, or that the reader does not follow
 */
async function recordsOf(ctx: ReadContext, reader: Reader, well: string): Promise<WellRecords> {
  const kind = kindNamed('well');
  if (!kind) throw new Error('there is no kind well');
  const visible = await visibleFeeds(ctx, reader);
  return ctx.records.read(reader.firm, async (tx) => {
    await visibleRecord(tx, visible, kind, well);
    const ids = await wellRoundIds(tx, well, MOST_VISITS);
    const states = (await recordsById(tx, [...ids.summaries, ...ids.points])).map(({ state }) => state);
    const ofKind = (name: string) => states.filter((state) => state.kind === name);
    return wellRecords(well, ofKind('visit-summary'), ofKind('measuring-point'));
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
