import {
  type CompletenessGiven,
  type CompletenessTold,
  completenessTold,
} from '../rules/samples/completeness/completeness-told.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { loadEventSamples } from './event-samples.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

/**
 * What an event was to bring, and what of it was collected, received and reported.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function eventCompleteness(
  tx: ReadTx,
  feeds: readonly string[] | null,
  event: string,
  given: CompletenessGiven,
): Promise<CompletenessTold> {
  return completenessTold(await loadEventSamples(tx, feeds, event), given);
}

export function readEventCompleteness(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
  given: CompletenessGiven,
): Promise<CompletenessTold> {
  return inRead(pool, reader.firm, async (tx) => eventCompleteness(tx, await feedsInSight(tx, reader), event, given));
}
