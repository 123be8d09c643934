type Step = () => unknown;

/** Undoes what a run started, last first, whether it ended well, by an error or by Ctrl-C. */
export class Cleanup {
  readonly #steps: Step[] = [];
  #running: Promise<void> | undefined;

  constructor() {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      process.once(signal, () => void this.run().finally(() => process.exit(130)));
    }
  }

  add(step: Step): void {
    this.#steps.push(step);
  }

  /** Every step is tried, even where one before it fails. */
  run(): Promise<void> {
    this.#running ??= this.#undo();
    return this.#running;
  }

  async #undo(): Promise<void> {
    for (let step = this.#steps.pop(); step; step = this.#steps.pop()) {
      await Promise.resolve(step()).catch((error: unknown) => {
        process.stderr.write(`while cleaning up: ${error instanceof Error ? error.message : String(error)}\n`);
      });
    }
  }
}
