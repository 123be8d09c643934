import { Problem } from '../../protocol/problem.ts';
import { type ToldToLaboratory, toldToLaboratory } from '../../rules/laboratory/laboratory-list.ts';
import { spokenReference, toldId } from '../../rules/laboratory/told-ids.ts';
import type { EventSamples } from '../../rules/samples/event-samples.ts';
import { placesIn } from '../../store/read/feed-states-at.ts';
import { inRead, type ReadTx } from '../../store/read/transaction.ts';
import { loadEventSamples } from '../event-samples.ts';
import { feedsInSight } from '../feeds-in-sight.ts';
import type { ReadContext } from '../read-context.ts';
import type { Reader } from '../reader.ts';
import { firmSecret } from './firm-secret.ts';
import { eventOfLaboratory } from './laboratory-event.ts';

/** An event as one of the two sides sees it: the laboratory as it is told, the firm as it is. */
export interface EventOfSide {
  readonly samples: EventSamples;
  /** What the side calls a record. */
  readonly idOf: (record: string) => string;
  /** By what both sides name a record in a call. */
  readonly referenceOf: (record: string) => string;
  /** The laboratory that asks; null for the office and crews. */
  readonly laboratory: string | null;
}

async function load(tx: ReadTx, reader: Reader, event: string): Promise<EventOfSide> {
  if (reader.role !== 'laboratory') {
    const samples = await loadEventSamples(tx, await feedsInSight(tx, reader), event);
    const { key } = await placesIn(tx, new Map([[`event:${event}`, 0]]));
    const secret = firmSecret(key, tx.firm);
    return {
      samples,
      idOf: (record) => record,
      referenceOf: (record) => spokenReference(secret, record),
      laboratory: null,
    };
  }
  const { samples, laboratory, secret } = await eventOfLaboratory(tx, reader, event);
  return {
    samples,
    laboratory,
    idOf: (record) => toldId(secret, laboratory, record),
    referenceOf: (record) => spokenReference(secret, record),
  };
}

/** @throws Problem `record_missing` for an event that the side does not see */
export function readEventOfSide(
  { pool }: Pick<ReadContext, 'pool'>,
  reader: Reader,
  event: string,
): Promise<EventOfSide> {
  return inRead(pool, reader.firm, (tx) => load(tx, reader, event));
}

/** What the laboratory of a receipt is told: the one that asks, the one named, where the cooler goes, or the only one. */
export function toldOfSide(
  { samples, laboratory }: EventOfSide,
  named: { readonly laboratory?: string | undefined; readonly cooler: string | null },
): ToldToLaboratory {
  const cooler = samples.coolers.find(({ id }) => id === named.cooler);
  const [only, ...others] = samples.laboratories;
  const its =
    laboratory ?? named.laboratory ?? cooler?.fields.laboratory ?? (others.length === 0 ? only?.id : undefined);
  if (its !== undefined && samples.laboratories.some(({ id }) => id === its)) return toldToLaboratory(samples, its);
  const fault =
    its === undefined ? 'is missing: nothing else says which laboratory it is' : `${its} is no laboratory of the firm`;
  throw new Problem('unreadable_record', `/laboratory ${fault}; give the id of its record`, { pointer: '/laboratory' });
}
