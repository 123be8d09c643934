import type { Logger } from 'pino';
import { eachFirm, saidOf } from './each-firm.ts';
import { Repeated } from './repeated.ts';
import type { Database } from './store/connections.ts';
import { takeUp } from './writes/take-up.ts';
import { Laps } from './writes/take-up-laps.ts';

const HOUR_MS = 3_600_000;

export interface UpgradeOptions {
  readonly database: Pick<Database, 'pool' | 'owner'>;
  readonly now: () => Date;
  readonly log: Logger;
  readonly everyMs?: number;
  /** How far the rounds before came. */
  readonly laps?: Laps;
  /** Where the first lap of a process begins; without it, at the first line. */
  readonly chance?: () => number;
}

const FAILED = 'what waits for a newer or mended server is not applied yet; again in an hour';
const LINE_FAILED = 'a change that was set aside is not applied yet; again once the others have had their turn';

/**
 * Applies, in every firm, what newer phones had written before this server was brought up to date, and what it had failed on. Never throws: what
 * could not be applied is tried again later. Several processes on one database each try: the lock of the firm lets one
 * after the other, and the second finds it done. Live readers hear of it by their next look.
 */
export async function takeUpAll(options: UpgradeOptions, ended = () => false): Promise<void> {
  const { database, now, log, laps = new Laps() } = options;
  await eachFirm(database, {
    step: async ({ id: firm }) => {
      const failed = (setAside: string, error: unknown) =>
        log.error({ firm, setAside, error: saidOf(error) }, LINE_FAILED);
      const applied = await takeUp({ pool: database.pool, now, committed: () => undefined, failed, laps }, firm);
      if (applied > 0) log.info({ firm, applied }, 'what had waited for a newer or mended server was applied');
    },
    failed: ({ id: firm }, error) => log.error({ firm, error: saidOf(error) }, FAILED),
    ended,
  }).catch((error: unknown) => log.error({ error: saidOf(error) }, FAILED));
}

/**
 * At once, and every hour: while processes of the version before still run beside this one, they go on setting aside what
 * only this one can read.
 */
export function takeUpHourly(options: UpgradeOptions): Repeated {
  const withLaps = { laps: new Laps(options.chance), ...options };
  return new Repeated((ended) => takeUpAll(withLaps, ended), { firstMs: 0, everyMs: options.everyMs ?? HOUR_MS });
}
