import { Problem } from '../../protocol/problem.ts';
import { type ExpectedTotals, totalsExpected } from '../../rules/laboratory/expected-totals.ts';
import { laboratoryList, type ToldToLaboratory, toldToLaboratory } from '../../rules/laboratory/laboratory-list.ts';
import { type ListChanges, listChanges } from '../../rules/laboratory/list-changes.ts';
import type { SampleListRow } from '../../rules/laboratory/list-row.ts';
import { officeList } from '../../rules/laboratory/office-list.ts';
import { type OrdersTold, toldOrders } from '../../rules/laboratory/orders-told.ts';
import { toldId } from '../../rules/laboratory/told-ids.ts';
import { EVENT_SAMPLES_KINDS, type EventSamples, eventSamples } from '../../rules/samples/event-samples.ts';
import { feedStatesAt, placesIn } from '../../store/read/feed-states-at.ts';
import { type LaboratoryEvent, laboratoryEvents } from '../../store/read/laboratory-events.ts';
import { inRead, type ReadTx } from '../../store/read/transaction.ts';
import { loadEventSamples } from '../event-samples.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';
import { eventOfLaboratory, feedsOf, laboratoryOfReader, type OfLaboratory } from './laboratory-event.ts';
import { type ListPlace, readListPlace, writeListPlace } from './list-cursor.ts';

type Ctx = Pick<ReadContext, 'pool'>;

/** What comes with the rows of a list. */
export interface ListHead {
  /** For the question what is new since. */
  readonly cursor: string;
  readonly expected: ExpectedTotals;
  readonly coolers: readonly { readonly id: string; readonly number: string; readonly containers: number }[];
}

export interface LaboratoryListTold extends ListHead {
  readonly rows: Iterable<SampleListRow>;
}

/** The list of the office and of crews: every container of an event, as it is. */
export function readOfficeList({ pool }: Ctx, reader: Reader, event: string): Promise<Iterable<SampleListRow>> {
  return inRead(pool, reader.firm, async (tx) =>
    officeList(await loadEventSamples(tx, await feedsInSight(tx, reader), event)),
  );
}

/** The events that concern the laboratory of a token, the latest first. */
export function readLaboratoryEvents({ pool }: Ctx, reader: Reader): Promise<LaboratoryEvent[]> {
  return inRead(pool, reader.firm, (tx) => laboratoryEvents(tx, laboratoryOfReader(reader), null));
}

function placeNow({ laboratory, event, samples, places }: OfLaboratory): ListPlace {
  const [own, site, firm] = feedsOf(samples);
  const tail = (feed: string) => places.feeds.get(feed)?.tail ?? 0;
  const history = places.feeds.get(own)?.historyHash ?? Buffer.alloc(8);
  return { epoch: places.epoch, laboratory, event, seqs: [tail(own), tail(site), tail(firm)], history };
}

function headOf(read: OfLaboratory, told: ToldToLaboratory): ListHead {
  const counts = new Map<string, number>();
  for (const { cooler } of told.containers) counts.set(cooler.id, (counts.get(cooler.id) ?? 0) + 1);
  const coolers = new Map(told.containers.map(({ cooler }) => [cooler.id, cooler]));
  return {
    cursor: writeListPlace(read.secret, placeNow(read)),
    expected: totalsExpected(told),
    coolers: [...coolers.values()]
      .map(({ id, fields }) => ({
        id: toldId(read.secret, read.laboratory, id),
        number: fields.number,
        containers: counts.get(id) ?? 0,
      }))
      .toSorted((a, b) => (`${a.number}\n${a.id}` < `${b.number}\n${b.id}` ? -1 : 1)),
  };
}

/** The list that a laboratory is told of an event. */
export function readLaboratoryList({ pool }: Ctx, reader: Reader, event: string): Promise<LaboratoryListTold> {
  return inRead(pool, reader.firm, async (tx) => {
    const read = await eventOfLaboratory(tx, reader, event);
    const told = toldToLaboratory(read.samples, read.laboratory);
    return { ...headOf(read, told), rows: laboratoryList(told) };
  });
}

function notOfThisList(why: string): Problem {
  const detail = `since: ${why}; read the whole list without it, and go on with the cursor that comes with that`;
  return new Problem('bad_request', detail, { pointer: '/since' });
}

function placeOf({ secret, laboratory, event, places }: OfLaboratory, since: string): ListPlace {
  const place = readListPlace(secret, since);
  if (place === null) throw notOfThisList('no cursor that a list of this firm gave');
  if (place.laboratory !== laboratory) throw notOfThisList('the cursor is that of another laboratory');
  if (place.event !== event) throw notOfThisList('the cursor is that of the list of another event');
  if (place.epoch !== places.epoch) throw notOfThisList('the cursor is older than the data, which were set back since');
  return place;
}

/** The samples of the event as they were known then. */
async function samplesAt(tx: ReadTx, read: OfLaboratory, place: ListPlace): Promise<EventSamples> {
  const feeds = feedsOf(read.samples);
  const [own] = feeds;
  const then = await placesIn(tx, new Map(feeds.map((feed, at) => [feed, place.seqs[at] ?? 0])));
  const history = then.feeds.get(own)?.historyAt;
  if (place.seqs[0] > 0 && !history?.subarray(0, place.history.length).equals(place.history)) {
    throw notOfThisList('the cursor is of another history of the data than the one that is here');
  }
  const states = [];
  for (const [at, feed] of feeds.entries()) {
    states.push(...(await feedStatesAt(tx, feed, place.seqs[at] ?? 0, EVENT_SAMPLES_KINDS)));
  }
  // an event is never without its own record at a place that was given with its list
  const event = states.find(({ id }) => id === read.event) ?? read.samples.event;
  return eventSamples(event, states);
}

/**
 * What is new of a laboratory's list since a cursor of it: the list as it was at that point of the history beside the list
 * now.
 *
 * @throws Problem `bad_request` for a cursor of another laboratory or event, or of data that were set back
 */
export function readListChanges(
  { pool }: Ctx,
  reader: Reader,
  asked: { readonly event: string; readonly since: string },
): Promise<ListHead & ListChanges> {
  return inRead(pool, reader.firm, async (tx) => {
    const read = await eventOfLaboratory(tx, reader, asked.event);
    const before = await samplesAt(tx, read, placeOf(read, asked.since));
    const told = toldToLaboratory(read.samples, read.laboratory);
    return { ...headOf(read, told), ...listChanges(toldToLaboratory(before, read.laboratory), told) };
  });
}

export function readLaboratoryOrders({ pool }: Ctx, reader: Reader, event: string): Promise<OrdersTold> {
  return inRead(pool, reader.firm, async (tx) => {
    const read = await eventOfLaboratory(tx, reader, event);
    return toldOrders(toldToLaboratory(read.samples, read.laboratory));
  });
}
