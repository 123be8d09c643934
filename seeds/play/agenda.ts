import type { WorldClock } from './clock.ts';

interface Sleeper {
  readonly atMs: number;
  readonly order: number;
  readonly wake: () => void;
}

/**
 * Runs the days of several crews side by side in simulated time: each says until when it has nothing to do, and when
 * all wait, the clock moves on to the earliest. Only one is awake at a time, so that a play goes the same way each run.
 */
export class Agenda {
  readonly clock: WorldClock;
  readonly #sleepers: Sleeper[] = [];
  #awake = 0;
  #order = 0;
  #stopped = false;

  constructor(clock: WorldClock) {
    this.clock = clock;
  }

  until(atMs: number): Promise<void> {
    return new Promise((wake) => {
      this.#sleepers.push({ atMs, order: this.#order++, wake });
      this.#awake -= 1;
      this.#wakeNext();
    });
  }

  /** Runs the parts to their ends; the first that fails stops the others where they wait. */
  async run(parts: readonly (() => Promise<void>)[]): Promise<void> {
    this.#awake += 1;
    const running = parts.map((part) => this.#part(part));
    this.#awake -= 1;
    this.#wakeNext();
    await Promise.all(running);
  }

  async #part(part: () => Promise<void>): Promise<void> {
    this.#awake += 1;
    await this.until(this.clock.nowMs);
    try {
      await part();
    } catch (error) {
      this.#stopped = true;
      throw error;
    }
    this.#awake -= 1;
    this.#wakeNext();
  }

  #wakeNext(): void {
    if (this.#awake > 0 || this.#stopped) return;
    const next = this.#sleepers.sort((a, b) => a.atMs - b.atMs || a.order - b.order).shift();
    if (next === undefined) return;
    this.#awake += 1;
    this.clock.moveTo(next.atMs);
    next.wake();
  }
}
