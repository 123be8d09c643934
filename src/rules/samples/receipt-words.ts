import { instantMs } from '../../science/instant-ms.ts';
import type { ReceiptRecord } from './sample-records.ts';

function enteredMs({ fields }: ReceiptRecord): number {
  return fields.observed?.entered === undefined ? 0 : instantMs(fields.observed.entered);
}

/** From the earliest to the one that has the last word: of one minute, the one that was entered later. */
export function receiptsInOrder(receipts: readonly ReceiptRecord[]): readonly ReceiptRecord[] {
  return receipts.toSorted(
    (a, b) =>
      instantMs(a.fields.received) - instantMs(b.fields.received) ||
      enteredMs(a) - enteredMs(b) ||
      (a.id < b.id ? -1 : 1),
  );
}

/** Labels of what a receipt says that it came, in whatever condition. */
function labelsThatCame({ fields: { labels, items } }: ReceiptRecord): readonly string[] {
  const named = (items ?? []).flatMap(({ label, condition }) => (condition === 'missing' ? [] : [label]));
  return [...(labels ?? []), ...named];
}

/**
 * Whether a receipt says that a bottle is missing only since it read others: a cooler may be read in two goes, so that it
 * takes back nothing of what another receipt says of it.
 */
function isByLabelsRead({ fields: { labels } }: ReceiptRecord): boolean {
  return labels != null;
}

/** Labels that a receipt tells as missing, and that another one says came: of two that only name a bottle the later counts. */
export function missingThatCame(receipt: ReceiptRecord, receipts: readonly ReceiptRecord[]): ReadonlySet<string> {
  const inOrder = receiptsInOrder(receipts);
  const at = inOrder.findIndex(({ id }) => id === receipt.id);
  const others = inOrder.filter((one, index) => one.id !== receipt.id && (isByLabelsRead(receipt) || index > at));
  return new Set(others.flatMap(labelsThatCame));
}
