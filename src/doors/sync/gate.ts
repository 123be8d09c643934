import { Problem } from '../../protocol/problem.ts';

/** Lets so many through at once; others wait in line, and beyond that are told to come back. */
export class Gate {
  readonly #atOnce: number;
  readonly #mostWaiting: number;
  readonly #waiting: (() => void)[] = [];
  #inside = 0;

  constructor(atOnce: number, mostWaiting: number) {
    this.#atOnce = atOnce;
    this.#mostWaiting = mostWaiting;
  }

  /**
   * @param gone whether nobody waits for the result any more, asked when its turn comes
   * @throws Problem `busy` where the line is full, or nobody waits any more
   */
  async through<Result>(work: () => Promise<Result>, gone: () => boolean): Promise<Result> {
    if (this.#inside < this.#atOnce) this.#inside += 1;
    else await this.#turn();
    try {
      if (gone()) throw new Problem('busy', 'the connection was closed before it was its turn');
      return await work();
    } finally {
      const next = this.#waiting.shift();
      // the place is handed on, so that nobody slips in between
      if (next) next();
      else this.#inside -= 1;
    }
  }

  #turn(): Promise<void> {
    if (this.#waiting.length >= this.#mostWaiting) {
      throw new Problem('busy', `${this.#mostWaiting} requests wait for a page of a feed from its beginning already`);
    }
    return new Promise((resolve) => this.#waiting.push(resolve));
  }
}
