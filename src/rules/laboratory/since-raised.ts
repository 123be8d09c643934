import type { EventSamples } from '../samples/event-samples.ts';
import { isReceived } from '../samples/received.ts';
import type { ListWorld } from './list-world.ts';

type Discrepancy = EventSamples['discrepancies'][number];

/**
 * What became of an item since a receipt showed it, for whoever is to decide it; null where nothing did. It stays open: a
 * person decides, and what another receipt says may be the mistake.
 *
 * @param of with all receipts of the laboratory whose item it is
 */
export function sinceRaised({
  of,
  received,
}: Pick<ListWorld, 'of' | 'received'>): (item: Discrepancy) => string | null {
  const receipts = new Set(of.receipts.map(({ id }) => id));
  const coolers = new Set(of.receipts.flatMap(({ fields }) => fields.cooler ?? []));
  return ({ fields: { type, standing, receipt, container, cooler } }) => {
    if (standing !== 'open') return null;
    if (type === 'not-received' && container !== undefined && isReceived(received.get(container))) {
      return 'It came: a receipt says so.';
    }
    if (receipt === undefined || receipts.has(receipt)) return null;
    const others = coolers.has(cooler ?? '')
      ? ' Another receipt of its cooler stands: it counts where that one says the same.'
      : '';
    return `The receipt that showed it was taken back.${others}`;
  };
}
