import { instantMs } from '../../science/instant-ms.ts';
import type { HandOverRecord, ReceiptRecord } from '../samples/sample-records.ts';
import { isAfter } from './clocks.ts';

export interface Arrival {
  readonly receipt: ReceiptRecord;
  /** It tells a time before anybody gave the cooler away: when it came is not known by it. */
  readonly isTooEarly: boolean;
}

/**
 * The receipt by which a cooler came to the laboratory: the first that is not before it was given away for the last time,
 * else for the first time, since a laboratory may pass it on. One with a wrong date takes the place of no other.
 *
 * @param receipts by time
 */
export function arrivalOf(
  receipts: readonly ReceiptRecord[],
  handOvers: readonly HandOverRecord[],
): Arrival | undefined {
  const given = handOvers
    .flatMap(({ fields }) => (fields.side === 'relinquished' ? [fields.at] : []))
    .toSorted((a, b) => instantMs(a) - instantMs(b));
  const firstFrom = (at: string | undefined) =>
    receipts.find(({ fields }) => at === undefined || !isAfter(at, fields.received));
  const possible = firstFrom(given.at(-1)) ?? firstFrom(given[0]);
  const receipt = possible ?? receipts[0];
  return receipt && { receipt, isTooEarly: possible === undefined };
}
