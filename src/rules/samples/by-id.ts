interface Identified {
  readonly id: string;
}

const known = new WeakMap<readonly Identified[], ReadonlyMap<string, Identified>>();

/** One of a list that does not change, by its id; the list is gone through once, since rounds have thousands of bottles. */
export function byIdIn<One extends Identified>(list: readonly One[], id: string | null | undefined): One | undefined {
  if (id == null) return undefined;
  let index = known.get(list);
  if (!index) {
    index = new Map(list.map((one) => [one.id, one]));
    known.set(list, index);
  }
  // what a list was gone through for is of its own type
  return index.get(id) as One | undefined;
}
