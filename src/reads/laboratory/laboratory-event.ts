import { Problem } from '../../protocol/problem.ts';
import type { EventSamples } from '../../rules/samples/event-samples.ts';
import { type Places, placesIn } from '../../store/read/feed-states-at.ts';
import { laboratoryEvents } from '../../store/read/laboratory-events.ts';
import type { ReadTx } from '../../store/read/transaction.ts';
import { loadEventSamples } from '../event-samples.ts';
import type { Reader } from '../reader.ts';
import { firmSecret } from './firm-secret.ts';

/** An event that a laboratory may ask about. What is known of its samples is not told as it is. */
export interface OfLaboratory {
  readonly laboratory: string;
  readonly event: string;
  readonly samples: EventSamples;
  readonly places: Places;
  readonly secret: Buffer;
}

/** @throws Problem `forbidden` for a token that speaks for no laboratory */
export function laboratoryOfReader({ role, laboratory }: Pick<Reader, 'role' | 'laboratory'>): string {
  if (role === 'laboratory' && laboratory != null) return laboratory;
  throw new Problem('forbidden', `the role ${role} speaks for no laboratory: ask at the address of the office`);
}

export function feedsOf({ event, site }: Pick<EventSamples, 'event' | 'site'>): readonly [string, string, string] {
  return [`event:${event.id}`, `site:${String(site?.id ?? event.fields.site)}`, 'firm'];
}

/**
 * All that is known of the samples of an event, for whoever asks as a laboratory.
 *
 * @throws Problem `record_missing` for an event that is not there or does not concern the laboratory
 */
export async function eventOfLaboratory(tx: ReadTx, reader: Reader, event: string): Promise<OfLaboratory> {
  const laboratory = laboratoryOfReader(reader);
  const [known] = await laboratoryEvents(tx, laboratory, event);
  if (!known) throw new Problem('record_missing', `no event ${event} is among those that concern your laboratory`);
  const samples = await loadEventSamples(tx, null, event);
  const places = await placesIn(tx, new Map(feedsOf(samples).map((feed) => [feed, 0])));
  return { laboratory, event, samples, places, secret: firmSecret(places.key, tx.firm) };
}
