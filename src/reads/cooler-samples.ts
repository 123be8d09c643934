import { OTHER_EVENT_KINDS, withOtherEvents } from '../rules/custody/from-other-events.ts';
import type { EventSamples } from '../rules/samples/event-samples.ts';
import { otherEventsIn } from '../store/read/events-in-cooler.ts';
import { feedStates } from '../store/read/feed-states.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { loadEventSamples } from './event-samples.ts';

/**
 * All that is known of the samples of a cooler's event, and of what is in the cooler though it is of another event: it is
 * physically in there, as far as the reader may see it.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function loadCoolerSamples(
  tx: ReadTx,
  feeds: readonly string[] | null,
  cooler: { readonly id: string; readonly event: string },
): Promise<EventSamples> {
  const of = await loadEventSamples(tx, feeds, cooler.event);
  const others = (await otherEventsIn(tx, cooler.id, cooler.event)).map((event) => `event:${event}`);
  const seen = feeds === null ? others : others.filter((feed) => feeds.includes(feed));
  return seen.length === 0 ? of : withOtherEvents(cooler.id, of, await feedStates(tx, seen, OTHER_EVENT_KINDS));
}
