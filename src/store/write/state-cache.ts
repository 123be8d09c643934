import type { RecordState } from '../../protocol/record.ts';

/** States that a process keeps at most, of all firms together: some 30 MB. */
const MOST_STATES = 30_000;

/**
 * States by id and the hash of their text, as heads have it: what is kept under a key can never be out of date, whoever
 * has written since. Kept so that the years behind a unit are not read again with each change of it; what was not asked
 * for longest goes first.
 */
export class StateCache {
  readonly #states = new Map<string, RecordState>();

  get(key: string): RecordState | undefined {
    const state = this.#states.get(key);
    if (state === undefined) return undefined;
    this.#states.delete(key);
    this.#states.set(key, state);
    return state;
  }

  put(key: string, state: RecordState): void {
    this.#states.set(key, state);
    if (this.#states.size <= MOST_STATES) return;
    const [oldest] = this.#states.keys();
    if (oldest !== undefined) this.#states.delete(oldest);
  }
}
