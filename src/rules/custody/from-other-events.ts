import type { RecordState } from '../../protocol/record.ts';
import { type EventSamples, eventSamples } from '../samples/event-samples.ts';

/** What is read of the other events of which a container is in a cooler. */
export const OTHER_EVENT_KINDS: readonly string[] = ['container', 'fill', 'blank'];

/**
 * The records of an event with what is in its cooler of others. Their samples are left out: of which number and time one is
 * told, by all of its own event, and beside those of this one a blind duplicate would get other ones.
 *
 * @param others of `OTHER_EVENT_KINDS`
 */
export function withOtherEvents(cooler: string, of: EventSamples, others: readonly RecordState[]): EventSamples {
  const read = eventSamples(of.event, others);
  const containers = read.containers.filter(({ fields }) => fields.cooler === cooler);
  if (containers.length === 0) return of;
  const [ids, blanks] = [
    new Set(containers.map(({ id }) => id)),
    new Set(containers.map(({ fields }) => fields.blank)),
  ];
  const byId = (a: { readonly id: string }, b: { readonly id: string }) => (a.id < b.id ? -1 : 1);
  return {
    ...of,
    containers: [...of.containers, ...containers].toSorted(byId),
    fills: [...of.fills, ...read.fills.filter(({ fields }) => ids.has(fields.container))].toSorted(byId),
    blanks: [...of.blanks, ...read.blanks.filter(({ id }) => blanks.has(id))].toSorted(byId),
  };
}
