import type { Held, World } from './held.ts';

/** Records by id, under what they have in common. */
type Index = Map<string, Map<string, Held>>;

/** The records that are loaded while a group of mutations is decided, overlaid with what was decided so far. */
export class Overlay implements World {
  readonly #held = new Map<string, Held>();
  readonly #byVisit: Index = new Map();
  readonly #byParent: Index = new Map();
  readonly #byKind: Index = new Map();

  /** Takes a record that was loaded, unless it is known already. */
  load(held: Held): void {
    if (!this.#held.has(held.state.id)) this.put(held);
  }

  put(held: Held): void {
    const { id } = held.state;
    const before = this.#held.get(id);
    if (before) this.#unlist(before);
    this.#held.set(id, held);
    this.#list(held);
  }

  /** A derived record that nothing gives rise to any more. */
  drop(id: string): void {
    const before = this.#held.get(id);
    if (before) this.#unlist(before);
    this.#held.delete(id);
  }

  get(id: string): Held | undefined {
    return this.#held.get(id);
  }

  ofVisit(id: string): readonly Held[] {
    return listed(this.#byVisit, id).filter((held) => held.state.id !== id);
  }

  under(id: string): readonly Held[] {
    return listed(this.#byParent, id);
  }

  ofKind(kind: string): readonly Held[] {
    return listed(this.#byKind, kind);
  }

  wellsOfNest(id: string): readonly Held[] {
    return this.ofKind('well').filter((held) => held.state.fields.nest === id);
  }

  #list(held: Held): void {
    add(this.#byVisit, held.visit, held);
    add(this.#byParent, held.parent, held);
    add(this.#byKind, held.state.kind, held);
  }

  #unlist(held: Held): void {
    this.#byVisit.get(held.visit ?? '')?.delete(held.state.id);
    this.#byParent.get(held.parent ?? '')?.delete(held.state.id);
    this.#byKind.get(held.state.kind)?.delete(held.state.id);
  }
}

function listed(index: Index, key: string): Held[] {
  return [...(index.get(key)?.values() ?? [])];
}

function add(index: Index, key: string | null, held: Held): void {
  if (key === null) return;
  const records = index.get(key) ?? new Map<string, Held>();
  index.set(key, records.set(held.state.id, held));
}
