interface Due {
  readonly at: number;
  readonly order: number;
  readonly run: () => Promise<void> | void;
}

/** After every microtask that waits: whoever was woken has gone as far as it can without the network. */
function everybodyWaits(): Promise<void> {
  return new Promise((resolve) => {
    setImmediate(resolve);
  });
}

/** Virtual time. Things happen one after the other, in the order of their times, and no real timer runs. */
export class Timeline {
  nowMs: number;
  #due: Due[] = [];
  #order = 0;

  constructor(nowMs: number) {
    this.nowMs = nowMs;
  }

  after(ms: number, run: () => Promise<void> | void): void {
    const due = { at: this.nowMs + ms, order: this.#order++, run };
    const place = this.#due.findLastIndex((one) => one.at <= due.at);
    this.#due.splice(place + 1, 0, due);
  }

  /** Lets pass what falls due until then. */
  async until(atMs: number): Promise<void> {
    for (let next = this.#due[0]; next && next.at <= atMs; next = this.#due[0]) await this.#step();
    this.nowMs = Math.max(this.nowMs, atMs);
  }

  /** Lets pass everything that is due, and what comes of it. */
  async empty(): Promise<void> {
    await everybodyWaits();
    while (this.#due.length > 0) await this.#step();
  }

  async #step(): Promise<void> {
    const due = this.#due.shift();
    if (!due) return;
    this.nowMs = Math.max(this.nowMs, due.at);
    await due.run();
    await everybodyWaits();
  }
}
