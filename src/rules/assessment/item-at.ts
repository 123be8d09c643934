/** The element at a place that is known to be in the list. */
export function itemAt<Item>(list: readonly Item[], index: number): Item {
  return list[index] as Item;
}
