import type { Logger } from 'pino';
import { eachFirm, saidOf } from './each-firm.ts';
import { Repeated } from './repeated.ts';
import type { Database } from './store/connections.ts';
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

const FAILED = 'compaction failed; again tomorrow';

async function compactAll({ database, days, now, log }: RetentionOptions, ended: () => boolean): Promise<void> {
  const retention = retentionFrom(days, now);
  await eachFirm(database, {
    step: async ({ id: firm }) => {
      const { rows, feeds } = await compact(database.pool, firm, retention);
      if (rows > 0) log.info({ firm, rows, feeds, days }, 'what left its feed long ago was dropped');
    },
    failed: ({ id: firm }, error) => log.error({ firm, error: saidOf(error) }, FAILED),
    ended,
  }).catch((error: unknown) => log.error({ error: saidOf(error) }, FAILED));
}

/**
 * Compacts every firm once a day, as long as the server runs. Several processes on one database each do: the lock of the
 * firm lets one after the other, and the second finds nothing left.
 */
export function compactDaily(options: RetentionOptions): Repeated {
  const { firstMs = FIRST_MS, everyMs = DAY_MS } = options;
  return new Repeated((ended) => compactAll(options, ended), { firstMs, everyMs });
}
