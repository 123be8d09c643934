import type { Held, World } from './held.ts';

/** The records that are loaded while a group of mutations is decided, overlaid with what was decided so far. */
export class Overlay implements World {
  readonly #held = new Map<string, Held>();
  readonly #byVisit = new Map<string, Set<string>>();
  readonly #byParent = new Map<string, Set<string>>();
  readonly #byKind = new Map<string, Set<string>>();

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
    return this.#all(this.#byVisit.get(id)).filter((held) => held.state.id !== id);
  }

  under(id: string): readonly Held[] {
    return this.#all(this.#byParent.get(id));
  }

  ofKind(kind: string): readonly Held[] {
    return this.#all(this.#byKind.get(kind));
  }

  wellsOfNest(id: string): readonly Held[] {
    return this.ofKind('well').filter((held) => held.state.fields.nest === id);
  }

  #all(ids: ReadonlySet<string> | undefined): Held[] {
    const all: Held[] = [];
    for (const id of ids ?? []) {
      const held = this.#held.get(id);
      if (held) all.push(held);
    }
    return all;
  }

  #list(held: Held): void {
    add(this.#byVisit, held.visit, held.state.id);
    add(this.#byParent, held.parent, held.state.id);
    add(this.#byKind, held.state.kind, held.state.id);
  }

  #unlist(held: Held): void {
    this.#byVisit.get(held.visit ?? '')?.delete(held.state.id);
    this.#byParent.get(held.parent ?? '')?.delete(held.state.id);
    this.#byKind.get(held.state.kind)?.delete(held.state.id);
  }
}

function add(index: Map<string, Set<string>>, key: string | null, id: string): void {
  if (key === null) return;
  const ids = index.get(key) ?? new Set();
  index.set(key, ids.add(id));
}
