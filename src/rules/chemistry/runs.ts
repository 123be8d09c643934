/** Items that stand together; never empty. */
export type Run<Item> = readonly [Item, ...Item[]];

/** Cuts a list into runs of neighbours that belong together, each item with the one before it. */
export function runsOf<Item>(
  items: readonly Item[],
  belongs: (last: Item, next: Item) => boolean,
): readonly Run<Item>[] {
  const runs: Run<Item>[] = [];
  let open: { readonly run: [Item, ...Item[]]; last: Item } | undefined;
  for (const item of items) {
    if (open !== undefined && belongs(open.last, item)) {
      open.run.push(item);
      open.last = item;
    } else {
      open = { run: [item], last: item };
      runs.push(open.run);
    }
  }
  return runs;
}
