export interface RepeatedOptions {
  readonly firstMs: number;
  /** From the end of one to the beginning of the next. */
  readonly everyMs: number;
}

/** Work that is done again and again as long as the server runs. It never throws, and asks now and then whether to end. */
export type Work = (ended: () => boolean) => Promise<void>;

/** Does its work from time to time, never twice at once; keeps no process running. */
export class Repeated {
  readonly #work: Work;
  readonly #everyMs: number;
  #timer: NodeJS.Timeout;
  #running: Promise<void> = Promise.resolve();
  #closed = false;

  constructor(work: Work, { firstMs, everyMs }: RepeatedOptions) {
    this.#work = work;
    this.#everyMs = everyMs;
    this.#timer = this.#after(firstMs);
  }

  /** Ends once the work, if it is under way, has ended. */
  async close(): Promise<void> {
    this.#closed = true;
    clearTimeout(this.#timer);
    await this.#running;
  }

  #after(ms: number): NodeJS.Timeout {
    const timer = setTimeout(() => {
      this.#running = this.#run();
    }, ms);
    return timer.unref();
  }

  async #run(): Promise<void> {
    await this.#work(() => this.#closed);
    if (!this.#closed) this.#timer = this.#after(this.#everyMs);
  }
}
