import { setTimeout as sleep } from 'node:timers/promises';
import type { ClientBase } from 'pg';

/** The lock that Prisma's own migration command takes, so that the two exclude each other. */
const MIGRATION_LOCK = 72_707_369;
/** One backup of an installation at a time, and none while the tables are altered. */
const BACKUP_LOCK = 72_707_371;

const MIGRATION_PATIENCE_MS = 60_000;
/** A backup that takes longer is left to whoever starts the server to wait for. */
const BACKUP_PATIENCE_MS = 600_000;
const PAUSE_MS = 100;

async function tryLock(client: ClientBase, lock: number): Promise<boolean> {
  const { rows } = await client.query<{ taken: boolean }>('select pg_try_advisory_lock($1) as taken', [lock]);
  return rows[0]?.taken === true;
}

async function lockedWork<Result>(client: ClientBase, lock: number, work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } finally {
    await client.query('select pg_advisory_unlock($1)', [lock]);
  }
}

interface Wait {
  readonly lock: number;
  readonly patienceMs: number;
  /** Called once, where the lock cannot be had at once. */
  readonly waiting?: (() => void) | undefined;
  readonly refusal: string;
}

async function takeLock(client: ClientBase, { lock, patienceMs, waiting, refusal }: Wait): Promise<void> {
  for (let waitedMs = 0; waitedMs <= patienceMs; waitedMs += PAUSE_MS) {
    if (await tryLock(client, lock)) return;
    if (waitedMs === 0) waiting?.();
    await sleep(PAUSE_MS);
  }
  throw new Error(refusal);
}

/** Does its work while no other process migrates. */
export async function aloneMigrating<Result>(client: ClientBase, work: () => Promise<Result>): Promise<Result> {
  const refusal =
    `Another process has been migrating this database for more than ${MIGRATION_PATIENCE_MS / 1000} seconds ` +
    `(advisory lock ${MIGRATION_LOCK}, see pg_locks). Wait until it ends, or end that session, and start again.`;
  await takeLock(client, { lock: MIGRATION_LOCK, patienceMs: MIGRATION_PATIENCE_MS, refusal });
  return lockedWork(client, MIGRATION_LOCK, work);
}

export interface BackupWait {
  readonly waiting?: ((why: string) => void) | undefined;
  readonly patienceMs?: number | undefined;
}

/**
 * Does its work while no backup is made. A backup keeps its tables from being altered until it ends; a migration that
 * waited for that inside of the database would have every push wait behind it.
 */
export async function besideNoBackup<Result>(
  client: ClientBase,
  { waiting, patienceMs = BACKUP_PATIENCE_MS }: BackupWait,
  work: () => Promise<Result>,
): Promise<Result> {
  const why = `a backup is being made: the tables are brought up to date when it has ended (advisory lock ${BACKUP_LOCK})`;
  const refusal =
    `A backup has been under way for more than ${patienceMs / 1000} seconds (advisory lock ${BACKUP_LOCK}, see pg_locks), ` +
    'and the tables cannot be brought up to date beside it. Nothing was changed. Start again when it has ended.';
  await takeLock(client, { lock: BACKUP_LOCK, patienceMs, waiting: () => waiting?.(why), refusal });
  return lockedWork(client, BACKUP_LOCK, work);
}

/** Makes this session the one that takes a backup, until it ends. */
export async function takeBackupLock(client: ClientBase): Promise<void> {
  if (await tryLock(client, BACKUP_LOCK)) return;
  throw new Error(
    'Another backup of this database is being made, or its tables are brought up to date. Wait until that has ended.',
  );
}
