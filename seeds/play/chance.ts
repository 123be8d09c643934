/** Chance from a seed (xorshift), so that every run of the play goes the same way. */
export class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = (Math.imul(seed, 2_654_435_761) + 1) | 0 || 1;
  }

  #next(): number {
    this.#state ^= this.#state << 13;
    this.#state ^= this.#state >>> 17;
    this.#state ^= this.#state << 5;
    return this.#state >>> 0;
  }

  bytes(count: number): Uint8Array {
    return Uint8Array.from({ length: count }, () => this.#next() & 0xff);
  }

  /** Between -1 and 1. */
  wobble(): number {
    return this.#next() / 0x7fff_ffff - 1;
  }

  whole(least: number, most: number): number {
    return least + (this.#next() % (most - least + 1));
  }
}
