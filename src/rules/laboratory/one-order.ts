import type { SampleListRow } from './list-row.ts';

export interface Numbered {
  readonly sampleNumber: string;
  readonly labelId: string;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/**
 * By the number of the sample, then by the label: an order that says nothing of when or by whom. Of two bottles with one
 * label, which must not be, the second is told apart by a number behind it, so that neither is lost from the list.
 */
export function inOneOrder<Item extends Numbered>(items: readonly Item[]): Item[] {
  const sorted = items.toSorted((a, b) => compare(a.sampleNumber, b.sampleNumber) || compare(a.labelId, b.labelId));
  const taken = new Set<string>();
  const apart = sorted.map((item) => {
    let labelId = item.labelId;
    for (let copy = 2; taken.has(key(item.sampleNumber, labelId)); copy++) labelId = `${item.labelId} (${copy})`;
    taken.add(key(item.sampleNumber, labelId));
    return labelId === item.labelId ? item : { ...item, labelId };
  });
  const isSorted = apart.every((item, at) => item === sorted[at]);
  return isSorted
    ? apart
    : apart.toSorted((a, b) => compare(a.sampleNumber, b.sampleNumber) || compare(a.labelId, b.labelId));
}

function key(sampleNumber: string, labelId: string): string {
  return `${sampleNumber}\n${labelId}`;
}

/** Rows are made one by one, as they are sent: a list of thousands takes no more memory than one of ten. */
export function* rowsOf<Item extends Numbered>(
  items: readonly Item[],
  row: (item: Item) => SampleListRow,
): Generator<SampleListRow, void> {
  for (const item of inOneOrder(items)) yield row(item);
}
