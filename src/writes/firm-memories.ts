import { RecordMemory } from '../store/write/record-memory.ts';
import { StateCache } from '../store/write/state-cache.ts';

/** Records that a process remembers at most, of all firms together: some 30 MB. */
const MOST_RECORDS = 10_000;

/** What is remembered of each firm; the one that wrote last comes last. */
export class FirmMemories {
  readonly #memories = new Map<string, RecordMemory>();
  readonly #states = new StateCache();

  /** The memory of a firm that is about to write. */
  of(firm: string): RecordMemory {
    const memory = this.#memories.get(firm) ?? new RecordMemory(this.#states);
    this.#memories.delete(firm);
    this.#memories.set(firm, memory);
    this.#trim();
    return memory;
  }

  /** Nothing is remembered of a transaction that came to nothing: the next one of this firm loads everything anew. */
  drop(firm: string): void {
    this.#memories.delete(firm);
  }

  /** Forgets whole firms, those that have not written for longest first: what was forgotten is loaded again. */
  #trim(): void {
    let records = [...this.#memories.values()].reduce((sum, memory) => sum + memory.size, 0);
    for (const memory of this.#memories.values()) {
      if (records <= MOST_RECORDS) return;
      records -= memory.size;
      memory.forget();
    }
  }
}
