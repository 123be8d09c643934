import type { Logger } from 'pino';
import type { Database } from './store/connections.ts';
import { listFirms } from './store/read/firm-list.ts';
import { compact, type Retention } from './writes/compact.ts';

const DAY_MS = 86_400_000;
/** Not at once: a server that was just started has phones waiting. */
const FIRST_MS = 600_000;

/** What left a feed so many days ago is told to nobody any more. */
export function retentionFrom(days: number, now: () => Date): Retention {
  return { before: new Date(now().getTime() - days * DAY_MS), now };
}

export interface RetentionOptions {
  readonly database: Pick<Database, 'pool' | 'owner'>;
  readonly days: number;
  readonly now: () => Date;
  readonly log: Logger;
  readonly firstMs?: number;
  readonly everyMs?: number;
}

async function firmIds({ owner }: RetentionOptions['database']): Promise<string[]> {
  const connection = await owner();
  const firms = await listFirms(connection).finally(() => connection.end());
  return firms.map(({ id }) => id);
}

/**
 * Compacts every firm once a day, as long as the server runs. Several processes on one database each do: the lock of the
 * firm lets one after the other, and the second finds nothing left.
 */
export class DailyCompaction {
  readonly #options: RetentionOptions;
  #timer: NodeJS.Timeout;
  #running: Promise<void> = Promise.resolve();
  #closed = false;

  constructor(options: RetentionOptions) {
    this.#options = options;
    this.#timer = this.#after(options.firstMs ?? FIRST_MS);
  }

  /** Ends after the firm that is being compacted. */
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
    const { database, days, now, log, everyMs = DAY_MS } = this.#options;
    try {
      const retention = retentionFrom(days, now);
      for (const firm of await firmIds(database)) {
        if (this.#closed) return;
        const { rows, feeds } = await compact(database.pool, firm, retention);
        if (rows > 0) log.info({ firm, rows, feeds, days }, 'what left its feed long ago was dropped');
      }
    } catch (error) {
      log.error({ error: error instanceof Error ? error.message : String(error) }, 'compaction failed; again tomorrow');
    }
    if (!this.#closed) this.#timer = this.#after(everyMs);
  }
}
