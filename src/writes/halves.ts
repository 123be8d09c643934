/** The earlier half, which is the longer of the two where they differ, and the later. */
export function halves<Item>(items: readonly Item[]): [readonly Item[], readonly Item[]] {
  const middle = Math.ceil(items.length / 2);
  return [items.slice(0, middle), items.slice(middle)];
}
