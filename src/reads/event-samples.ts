import { EVENT_SAMPLES_KINDS, type EventSamples, eventSamples } from '../rules/samples/event-samples.ts';
import { feedStates } from '../store/read/feed-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { inSight } from './in-sight.ts';

/**
 * All that is known of the samples of an event, with the wells of its site and what the firm keeps of laboratories and
 * suites.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function loadEventSamples(tx: ReadTx, feeds: readonly string[] | null, id: string): Promise<EventSamples> {
  const { state } = await inSight(tx, feeds, 'event', id);
  const its = [`event:${id}`, `site:${String(state.fields.site)}`, 'firm'];
  return eventSamples(state, await feedStates(tx, its, EVENT_SAMPLES_KINDS));
}
