/** Chance from a seed (mulberry32): the same seed gives the same run, on every machine. */
export class Chance {
  #state: number;

  constructor(seed: number) {
    this.#state = Math.imul(seed ^ 0x5bd1e995, 0x9e3779b1) >>> 0;
  }

  /** Between 0 and 1, 1 left out. */
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = this.#state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  }

  below(count: number): number {
    return Math.floor(this.next() * count);
  }

  between(least: number, most: number): number {
    return least + this.below(most - least + 1);
  }

  yes(probability: number): boolean {
    return this.next() < probability;
  }

  /** One of them; undefined where there is none. */
  maybe<Item>(items: readonly Item[]): Item | undefined {
    return items[this.below(items.length)];
  }

  pick<Item>(items: readonly Item[]): Item {
    const item = this.maybe(items);
    if (item === undefined) throw new RangeError('nothing to pick from');
    return item;
  }

  bytes(count: number): Uint8Array {
    return Uint8Array.from({ length: count }, () => this.below(256));
  }

  uuid(): string {
    const hex = Buffer.from(this.bytes(16)).toString('hex');
    const parts = [hex.slice(0, 8), hex.slice(8, 12), `4${hex.slice(13, 16)}`, `8${hex.slice(17, 20)}`, hex.slice(20)];
    return parts.join('-');
  }

  /** Chance of its own for one purpose, so that what one part draws does not change what another does. */
  fork(): Chance {
    return new Chance(this.below(4_294_967_295));
  }
}
