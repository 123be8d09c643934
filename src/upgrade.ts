import type { Logger } from 'pino';
import { eachFirm, saidOf } from './each-firm.ts';
import type { Database } from './store/connections.ts';
import { takeUp } from './writes/take-up.ts';

export interface UpgradeOptions {
  readonly database: Pick<Database, 'pool' | 'owner'>;
  readonly now: () => Date;
  readonly log: Logger;
}

const FAILED = 'what newer phones had written is not applied yet; again at the next start';

/**
 * Applies, in every firm, what newer phones had written before this server was brought up to date. Never throws: what
 * could not be applied is tried again at the next start. Several processes on one database each try: the lock of the
 * firm lets one after the other, and the second finds it done. Live readers hear of it by their next look.
 */
export async function takeUpAll({ database, now, log }: UpgradeOptions): Promise<void> {
  await eachFirm(database, {
    step: async ({ id: firm }) => {
      const applied = await takeUp({ pool: database.pool, now, committed: () => undefined }, firm);
      if (applied > 0) log.info({ firm, applied }, 'what newer phones had written before the upgrade was applied');
    },
    failed: ({ id: firm }, error) => log.error({ firm, error: saidOf(error) }, FAILED),
  }).catch((error: unknown) => log.error({ error: saidOf(error) }, FAILED));
}
