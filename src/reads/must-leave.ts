import { Problem } from '../protocol/problem.ts';
import { type MustLeaveGiven, type MustLeaveTold, mustLeaveTold } from '../rules/shipping/must-leave-told.ts';
import { type PackingTold, packingTold } from '../rules/shipping/packing-told.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';
import { loadCoolerSamples } from './cooler-samples.ts';
import { loadEventSamples } from './event-samples.ts';
import { feedsInSight } from './feeds-in-sight.ts';
import { inSight } from './in-sight.ts';
import type { ReadContext } from './read-context.ts';
import type { Reader } from './reader.ts';

type Given = MustLeaveGiven & { readonly now: string };
type Feeds = readonly string[] | null;

/**
 * What of an event must leave today.
 *
 * @param feeds those that the reader may see; null for all of the firm
 * @throws Problem `record_missing` for an event that is not there or that the reader does not see
 */
export async function eventMustLeave(tx: ReadTx, feeds: Feeds, event: string, given: Given): Promise<MustLeaveTold> {
  return mustLeaveTold(await loadEventSamples(tx, feeds, event), given);
}

/**
 * What is said while a cooler is packed.
 *
 * @throws Problem `record_missing` for a cooler that is not there, was voided, or that the reader does not see
 */
export async function coolerPacking(tx: ReadTx, feeds: Feeds, cooler: string, given: Given): Promise<PackingTold> {
  const { state } = await inSight(tx, feeds, 'cooler', cooler);
  const told = packingTold(
    await loadCoolerSamples(tx, feeds, { id: cooler, event: String(state.fields.event) }),
    cooler,
    given,
  );
  if (told) return told;
  throw new Problem('record_missing', `the cooler ${cooler} was voided: ask about the one that took its place`);
}

export function readEventMustLeave({ pool }: Pick<ReadContext, 'pool'>, reader: Reader, event: string, given: Given) {
  return inRead(pool, reader.firm, async (tx) => eventMustLeave(tx, await feedsInSight(tx, reader), event, given));
}

export function readCoolerPacking({ pool }: Pick<ReadContext, 'pool'>, reader: Reader, cooler: string, given: Given) {
  return inRead(pool, reader.firm, async (tx) => coolerPacking(tx, await feedsInSight(tx, reader), cooler, given));
}
