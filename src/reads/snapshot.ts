import type pg from 'pg';
import { Problem } from '../protocol/problem.ts';
import { inRead, type ReadTx } from '../store/read/transaction.ts';

interface Opened {
  readonly tx: Promise<ReadTx>;
  /** Lets the transaction end, and waits until it has. */
  readonly end: () => Promise<void>;
}

function open(pool: pg.Pool, firm: string): Opened {
  let letGo = (): void => undefined;
  const over = new Promise<void>((resolve) => (letGo = resolve));
  let ended: Promise<void> = Promise.resolve();
  const tx = new Promise<ReadTx>((resolve, reject) => {
    ended = inRead(pool, firm, async (opened) => {
      resolve(opened);
      await over;
    });
    ended.catch(reject);
  });
  const end = () => {
    letGo();
    // a transaction that could not end has already failed the read that it broke on
    return ended.catch(() => undefined);
  };
  return { tx, end };
}

/**
 * One snapshot of a firm for everything that a request reads, opened by its first read. Reads run one after the other:
 * they share a connection.
 */
export class Snapshot {
  readonly #pool: pg.Pool;
  readonly #firm: string;
  #opened: Opened | null = null;
  #closed = false;
  #last: Promise<unknown> = Promise.resolve();

  constructor(pool: pg.Pool, firm: string) {
    this.#pool = pool;
    this.#firm = firm;
  }

  /** @throws Problem `busy` once the request is over, however many reads it still had in mind */
  read<Result>(work: (tx: ReadTx) => Promise<Result>): Promise<Result> {
    return this.#queue(async () => {
      if (this.#closed) throw new Problem('busy', 'the request was over before everything was read');
      this.#opened ??= open(this.#pool, this.#firm);
      return work(await this.#opened.tx);
    });
  }

  /** Ends the snapshot after the reads that wait; the next read opens a newer one. */
  renew(): Promise<void> {
    return this.#queue(async () => {
      const opened = this.#opened;
      this.#opened = null;
      await opened?.end();
    });
  }

  /** Ends the snapshot for good: reads that have not begun fail. */
  close(): Promise<void> {
    this.#closed = true;
    return this.renew();
  }

  #queue<Result>(step: () => Promise<Result>): Promise<Result> {
    const run = this.#last.then(step);
    this.#last = run.catch(() => undefined);
    return run;
  }
}
