/** Where a row of the ledger stands, and which revision of which record it tells. */
export interface HistoryKey {
  readonly feed: string;
  readonly seq: number;
  readonly record: string;
  readonly rev: number;
  /** When the server took it, by its clock. */
  readonly atMs: number;
}

/** The rows of one feed, in its order, with the first of those that are left. */
class Line {
  readonly #rows: AsyncIterator<HistoryKey>;
  first: HistoryKey | null = null;
  /** The latest time so far: within a feed its numbers tell the order, however a clock was set. */
  atMs = Number.NEGATIVE_INFINITY;

  constructor(rows: AsyncIterator<HistoryKey>) {
    this.#rows = rows;
  }

  async advance(): Promise<void> {
    const next = await this.#rows.next();
    this.first = next.done === true ? null : next.value;
    this.atMs = Math.max(this.atMs, this.first?.atMs ?? this.atMs);
  }
}

/** The line whose first row comes next: no revision of a record before the one that it follows. */
function nextLine(lines: readonly Line[], told: ReadonlyMap<string, number>): Line | undefined {
  const left = lines.filter(({ first }) => first !== null);
  const due = left.filter(({ first }) => first !== null && first.rev <= (told.get(first.record) ?? 0) + 1);
  const ordered = (due.length > 0 ? due : left).toSorted((a, b) => a.atMs - b.atMs);
  return ordered[0];
}

/**
 * The rows of several feeds in one order: each feed in its own, the revisions of a record one after the other, and
 * otherwise by the time at which the server took them. Numbers of two feeds do not compare, and times alone may be those
 * of two processes.
 */
export async function* inOneOrder(feeds: readonly AsyncIterable<HistoryKey>[]): AsyncGenerator<HistoryKey> {
  const lines = feeds.map((rows) => new Line(rows[Symbol.asyncIterator]()));
  for (const line of lines) await line.advance();
  const told = new Map<string, number>();
  for (let line = nextLine(lines, told); line?.first; line = nextLine(lines, told)) {
    const { first } = line;
    told.set(first.record, Math.max(first.rev, told.get(first.record) ?? 0));
    yield first;
    await line.advance();
  }
}
