import type { RecordState } from '../../protocol/record.ts';
import type { MergeMemory } from '../../rules/merge/merge-memory.ts';
import type { HeadRow } from './head-row.ts';
import { StateCache } from './state-cache.ts';
import type { StoredHeld } from './stored-held.ts';
import type { Tail } from './tail.ts';

/** A record as a transaction left it: its head, and the text of its state. */
export interface Written {
  readonly head: HeadRow;
  /** Null where it left the feed. */
  readonly text: string | null;
}

/** A record that is remembered; what was only written is read back when somebody asks for it. */
interface Entry {
  readonly id: string;
  readonly kind: string;
  readonly feed: string;
  readonly parent: string | null;
  readonly visit: string | null;
  readonly read: () => StoredHeld;
}

type Index = Map<string, Map<string, Entry>>;

function once<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

function entryOfStored(held: StoredHeld): Entry {
  const { feed, parent, visit, state } = held;
  return { id: state.id, kind: state.kind, feed, parent, visit, read: () => held };
}

/** As it would be loaded: key for key what the database gives back. */
function entryOfWritten({ id, kind, feed, parent, visit, rowHash, merge }: HeadRow, text: string): Entry {
  const read = once((): StoredHeld => {
    const state = JSON.parse(text) as RecordState;
    const memory = merge === null ? null : (JSON.parse(merge) as MergeMemory);
    return { state, feed, parent, visit, memory, rowHash: rowHash ?? Buffer.alloc(0) };
  });
  return { id, kind, feed, parent, visit, read };
}

function list(index: Index, key: string | null, entry: Entry): void {
  if (key === null) return;
  const entries = index.get(key) ?? new Map<string, Entry>();
  index.set(key, entries.set(entry.id, entry));
}

function unlist(index: Index, key: string | null, id: string): void {
  if (key === null) return;
  const entries = index.get(key);
  entries?.delete(id);
  if (entries?.size === 0) index.delete(key);
}

/**
 * What a process remembers of the records of a firm between its transactions, so that a crew that sends reading after
 * reading does not have its whole visit loaded each time. It is as good as a look into the database as long as every
 * feed that a remembered record lives in ends where it ended then, which is asked under the lock: no record changes
 * without a row at the end of its feed. What the process itself commits is learnt, not loaded.
 */
export class RecordMemory {
  /** States that need no confirmation; shared by all firms of the process. */
  readonly states: StateCache;
  readonly #entries = new Map<string, Entry>();
  readonly #byVisit: Index = new Map();
  readonly #byParent: Index = new Map();
  /** Sets of which every record is remembered, by what was asked for. */
  readonly #whole = new Set<string>();
  readonly #feeds = new Set<string>();
  /** Where each feed ended when its records were loaded or written. */
  readonly tails = new Map<string, Tail>();

  constructor(states = new StateCache()) {
    this.states = states;
  }

  get size(): number {
    return this.#entries.size;
  }

  forget(): void {
    for (const index of [this.#entries, this.#byVisit, this.#byParent, this.tails]) index.clear();
    this.#whole.clear();
    this.#feeds.clear();
  }

  /** Feeds that matter to what is remembered, and whose end is not known yet. */
  feedsWithoutTail(): string[] {
    return [...this.#feeds].filter((feed) => !this.tails.has(feed));
  }

  has(id: string): boolean {
    return this.#entries.has(id);
  }

  get(id: string): StoredHeld | undefined {
    return this.#entries.get(id)?.read();
  }

  hasVisit(visit: string): boolean {
    return this.#whole.has(`visit ${visit}`);
  }

  /** @returns null where not all of it is remembered */
  ofVisit(visit: string): StoredHeld[] | null {
    if (!this.hasVisit(visit)) return null;
    return [...(this.#byVisit.get(visit)?.values() ?? [])].map((entry) => entry.read());
  }

  /** @returns null where not all of it is remembered */
  under(parent: string, kinds: readonly string[]): StoredHeld[] | null {
    if (!this.#whole.has(`under ${kinds.join()} ${parent}`)) return null;
    const entries = [...(this.#byParent.get(parent)?.values() ?? [])];
    return entries.filter((entry) => kinds.includes(entry.kind)).map((entry) => entry.read());
  }

  /** Takes what was loaded. */
  add(stored: readonly StoredHeld[]): void {
    for (const held of stored) if (!this.#entries.has(held.state.id)) this.#put(entryOfStored(held));
  }

  /** Takes everything that belongs to these visits. */
  addVisits(visits: readonly string[], stored: readonly StoredHeld[]): void {
    this.add(stored);
    for (const visit of this.#known(visits)) this.#whole.add(`visit ${visit}`);
  }

  /** Takes everything of these kinds that lives directly under these records. */
  addUnder(parents: readonly string[], kinds: readonly string[], stored: readonly StoredHeld[]): void {
    this.add(stored);
    for (const parent of this.#known(parents)) this.#whole.add(`under ${kinds.join()} ${parent}`);
  }

  /** What is not here may come into being in any feed: of that, nothing is remembered. */
  #known(ids: readonly string[]): string[] {
    return ids.filter((id) => this.#entries.has(id));
  }

  /** Takes what was committed, and where the feeds end since then. */
  learn(written: Iterable<Written>, tails: ReadonlyMap<string, Tail>): void {
    for (const { head, text } of written) {
      if (text !== null) this.#put(entryOfWritten(head, text));
      else if (this.#entries.get(head.id)?.feed === head.feed) this.#drop(head.id);
    }
    for (const [feed, tail] of tails) this.tails.set(feed, tail);
  }

  #put(entry: Entry): void {
    this.#drop(entry.id);
    this.#entries.set(entry.id, entry);
    this.#feeds.add(entry.feed);
    list(this.#byVisit, entry.visit, entry);
    list(this.#byParent, entry.parent, entry);
  }

  #drop(id: string): void {
    const entry = this.#entries.get(id);
    if (!entry) return;
    this.#entries.delete(id);
    unlist(this.#byVisit, entry.visit, id);
    unlist(this.#byParent, entry.parent, id);
  }
}
