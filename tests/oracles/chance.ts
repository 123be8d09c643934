/** Chance that can be repeated: the same seed and number give the same draws (SplitMix32). */
export class Chance {
  private state: number;

  constructor(seed: number, number: number) {
    this.state = (Math.imul(seed, 0x9e3779b1) ^ Math.imul(number + 1, 0x85ebca6b)) >>> 0;
    for (let warmUp = 0; warmUp < 3; warmUp += 1) this.unit();
  }

  /** From 0 to below 1. */
  unit(): number {
    this.state = (this.state + 0x9e3779b9) >>> 0;
    let mixed = this.state ^ (this.state >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed ^= mixed >>> 15;
    mixed = Math.imul(mixed, 0x735a2d97);
    return ((mixed ^ (mixed >>> 15)) >>> 0) / 2 ** 32;
  }

  /** A whole number of both ends included. */
  whole(from: number, to: number): number {
    return from + Math.floor(this.unit() * (to - from + 1));
  }

  is(share: number): boolean {
    return this.unit() < share;
  }

  one<T>(all: readonly T[]): T {
    if (all.length === 0) throw new Error('nothing to choose from');
    return all[Math.floor(this.unit() * all.length)] as T;
  }

  /** One of them with this share, else what is usual. */
  rarely<T>(share: number, all: readonly T[], usual: T): T {
    return this.is(share) ? this.one(all) : usual;
  }

  shuffled<T>(all: readonly T[]): T[] {
    const rest = [...all];
    for (let at = rest.length - 1; at > 0; at -= 1) {
      const other = this.whole(0, at);
      [rest[at], rest[other]] = [rest[other] as T, rest[at] as T];
    }
    return rest;
  }
}
