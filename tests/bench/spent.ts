const MS_PER_S = 1_000;

/** What each row of a run took of its time, to see which one makes it long. */
export class Spent {
  readonly #ms = new Map<string, number>();

  readonly timed = async <T>(row: string, work: () => Promise<T>): Promise<T> => {
    const begun = performance.now();
    try {
      return await work();
    } finally {
      this.#ms.set(row, (this.#ms.get(row) ?? 0) + performance.now() - begun);
    }
  };

  text(): string {
    const rows = [...this.#ms].map(([row, ms]) => `${row} ${(ms / MS_PER_S).toFixed(1)} s`);
    return `the run took for ${rows.join(', ')}`;
  }
}
