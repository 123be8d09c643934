/** Items under what they have in common, in the order given. */
export function byKey<Item>(
  items: readonly Item[],
  key: (item: Item) => string | null | undefined,
): ReadonlyMap<string, readonly Item[]> {
  const groups = new Map<string, Item[]>();
  for (const item of items) {
    const its = key(item);
    if (its === null || its === undefined) continue;
    const group = groups.get(its);
    if (group) group.push(item);
    else groups.set(its, [item]);
  }
  return groups;
}

/** How many of a sorted list come before the first for which this holds, or all. */
export function firstWhere<Item>(sorted: readonly Item[], holds: (item: Item) => boolean): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (holds(sorted[middle] as Item)) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** What was not taken back. */
export function live<Item extends { readonly voided: unknown }>(items: readonly Item[] | undefined): readonly Item[] {
  return (items ?? []).filter(({ voided }) => voided === null);
}

export function byId<Item extends { readonly id: string }>(items: readonly Item[]): ReadonlyMap<string, Item> {
  return new Map(items.map((item) => [item.id, item]));
}
