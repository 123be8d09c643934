import { setTimeout as sleep } from 'node:timers/promises';
import type { ClientBase } from 'pg';

/** The lock that Prisma's own migration command takes, so that the two exclude each other. */
const MIGRATION_LOCK = 72_707_369;
/** One backup of an installation at a time, and none while the tables are altered. */
const BACKUP_LOCK = 72_707_371;

/** Long enough for a process that begins with several, each of which may be tried for over a minute. */
const MIGRATION_PATIENCE_MS = 600_000;
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

/** Whether some session migrates: it keeps backups away as well, and is no backup. */
async function isMigrating(client: ClientBase): Promise<boolean> {
  const { rows } = await client.query<{ migrating: boolean }>(
    `select exists (select from pg_locks where locktype = 'advisory' and granted and classid = 0 and objid = $1
  and objsubid = 1 and database = (select oid from pg_database where datname = current_database())) as migrating`,
    [MIGRATION_LOCK],
  );
  return rows[0]?.migrating === true;
}

interface Wait {
  readonly lock: number;
  readonly patienceMs: number;
  /** Called once, where the lock cannot be had at once. */
  readonly waiting?: ((why: string) => void) | undefined;
  /** What is waited for, and what is said where it does not end in time. */
  readonly why: () => Promise<Waited>;
}

interface Waited {
  readonly why: string;
  readonly refusal: string;
}

async function takeLock(client: ClientBase, { lock, patienceMs, waiting, why }: Wait): Promise<void> {
  for (let waitedMs = 0; waitedMs <= patienceMs; waitedMs += PAUSE_MS) {
    if (await tryLock(client, lock)) return;
    if (waitedMs === 0 && waiting) waiting((await why()).why);
    await sleep(PAUSE_MS);
  }
  throw new Error((await why()).refusal);
}

/** How long what keeps a migration waiting is waited for, and who is told of it. */
export interface LockWait {
  /** Told once what is waited for, where it does not go on at once. */
  readonly waiting?: ((why: string) => void) | undefined;
  readonly patienceMs?: number | undefined;
}

function otherMigration(patienceMs: number): Waited {
  const lock = `advisory lock ${MIGRATION_LOCK}`;
  return {
    why: `another process brings the tables up to date: this one goes on when it has ended (${lock})`,
    refusal:
      `Another process has been migrating this database for more than ${patienceMs / 1000} seconds ` +
      `(${lock}, see pg_locks). Wait until it ends, or end that session, and start again.`,
  };
}

/** Does its work while no other process migrates. */
export async function aloneMigrating<Result>(
  client: ClientBase,
  { waiting, patienceMs = MIGRATION_PATIENCE_MS }: LockWait,
  work: () => Promise<Result>,
): Promise<Result> {
  await takeLock(client, { lock: MIGRATION_LOCK, patienceMs, waiting, why: async () => otherMigration(patienceMs) });
  return lockedWork(client, MIGRATION_LOCK, work);
}

function backup(patienceMs: number): Waited {
  return {
    why: `a backup is being made: the tables are brought up to date when it has ended (advisory lock ${BACKUP_LOCK})`,
    refusal:
      `A backup has been under way for more than ${patienceMs / 1000} seconds (advisory lock ${BACKUP_LOCK}, see pg_locks), ` +
      'and the tables cannot be brought up to date beside it. Nothing was changed. Start again when it has ended.',
  };
}

/**
 * Does its work while no backup is made. A backup keeps its tables from being altered until it ends; a migration that
 * waited for that inside of the database would have every push wait behind it.
 */
export async function besideNoBackup<Result>(
  client: ClientBase,
  { waiting, patienceMs = BACKUP_PATIENCE_MS }: LockWait,
  work: () => Promise<Result>,
): Promise<Result> {
  // a process that migrates has taken this lock too, to keep backups away
  const why = async () => ((await isMigrating(client)) ? otherMigration(patienceMs) : backup(patienceMs));
  await takeLock(client, { lock: BACKUP_LOCK, patienceMs, waiting, why });
  return lockedWork(client, BACKUP_LOCK, work);
}

/** Makes this session the one that takes a backup, until it ends. */
export async function takeBackupLock(client: ClientBase): Promise<void> {
  if (await tryLock(client, BACKUP_LOCK)) return;
  throw new Error(
    'Another backup of this database is being made, or its tables are brought up to date. Wait until that has ended.',
  );
}
