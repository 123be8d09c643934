import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { readdir, readFile } from 'node:fs/promises';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { ClientBase } from 'pg';
import { aloneMigrating, besideNoBackup } from './migration-locks.ts';

/**
 * How long a migration waits for a table that somebody uses. As long as it waits, everybody who comes later waits behind
 * it: it gives up soon, lets them through, and tries again. Less than deadlock_timeout (1 s if nobody changed it): so in a
 * deadlock it is this that gives way, before the database ends somebody's push to end it.
 */
const LOCK_TIMEOUT_MS = 700;
const LOCK_TRIES = 60;
const LOCK_PAUSE_MS = 500;
/** lock_not_available, and deadlock_detected, where the database was told to look for one sooner. */
const LOCKED = ['55P03', '40P01'];

/** Prisma's own table, column for column. */
const HISTORY_TABLE = `
  create table if not exists _prisma_migrations (
    id                  varchar(36) primary key not null,
    checksum            varchar(64) not null,
    finished_at         timestamptz,
    migration_name      varchar(255) not null,
    logs                text,
    rolled_back_at      timestamptz,
    started_at          timestamptz not null default now(),
    applied_steps_count integer not null default 0
  )`;

interface Migration {
  name: string;
  sql: string;
}

interface Applied {
  name: string;
  checksum: string;
  finished: boolean;
  logs: string | null;
}

const sha256 = (text: string): string => createHash('sha256').update(text, 'utf8').digest('hex');

async function readMigrations(directory: string): Promise<Migration[]> {
  const entries = await readdir(directory, { withFileTypes: true }).catch((error: NodeJS.ErrnoException) => {
    throw new Error(
      `The migrations folder ${directory} cannot be read (${error.code}). Install the program again whole.`,
    );
  });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  const migrations: Migration[] = [];
  for (const name of names.sort()) {
    const file = path.join(directory, name, 'migration.sql');
    if (!existsSync(file)) {
      throw new Error(
        `The migration folder ${path.join(directory, name)} holds no migration.sql. Add it, or remove the folder.`,
      );
    }
    migrations.push({ name, sql: await readFile(file, 'utf8') });
  }
  return migrations;
}

/** A migration of a folder, and whether a checksum that was noted elsewhere is that of its script. */
export interface KnownMigration {
  readonly name: string;
  readonly is: (checksum: string) => boolean;
}

export async function migrationsIn(directory: string): Promise<KnownMigration[]> {
  const migrations = await readMigrations(directory);
  return migrations.map(({ name, sql }) => ({ name, is: (checksum) => sameScript(sql, checksum) }));
}

async function readHistory(client: ClientBase): Promise<Applied[]> {
  const result = await client.query<Applied>(`
    select migration_name as name, checksum, finished_at is not null as finished, logs
    from _prisma_migrations where rolled_back_at is null order by started_at`);
  return result.rows;
}

/** Line ends may differ between checkouts, as Prisma allows too. */
function sameScript(sql: string, checksum: string): boolean {
  const unix = sql.replaceAll('\r\n', '\n');
  return [sql, unix, unix.replaceAll('\n', '\r\n')].some((text) => sha256(text) === checksum);
}

function checkApplied(applied: Applied, known: Migration | undefined, directory: string): void {
  if (!applied.finished) {
    throw new Error(
      `The migration ${applied.name} was begun by another tool and never finished. It left: ${applied.logs ?? 'no log'}. ` +
        'Look at what it changed, then tell Prisma with "prisma migrate resolve --rolled-back" or "--applied", and start again.',
    );
  }
  if (known === undefined) {
    throw new Error(
      `The database is newer than this program: it has the migration ${applied.name}, which is not in ${directory}. ` +
        'Start the release that made it, or a later one; or restore a backup from before.',
    );
  }
  if (!sameScript(known.sql, applied.checksum)) {
    throw new Error(
      `The migration ${applied.name} was changed after it was applied (recorded SHA-256 ${applied.checksum}, file now ` +
        `${sha256(known.sql)}). Put the file back as it was, and write the change as a new migration.`,
    );
  }
}

function failedMigration(migration: Migration, error: unknown): Error {
  const { message, position } = error as { message: string; position?: string };
  const line =
    position === undefined ? '' : ` near line ${migration.sql.slice(0, Number(position)).split('\n').length}`;
  return new Error(
    `The migration ${migration.name} failed${line}: ${message}. Nothing of it was kept. Correct it and start again.`,
    { cause: error },
  );
}

async function transactionNumber(client: ClientBase): Promise<string | undefined> {
  const result = await client.query<{ number: string }>('select pg_current_xact_id()::text as number');
  return result.rows[0]?.number;
}

async function applyOne(client: ClientBase, migration: Migration): Promise<void> {
  await client.query(`begin; set local lock_timeout = ${LOCK_TIMEOUT_MS}`);
  try {
    const inserted = await client.query<{ id: string }>(
      `insert into _prisma_migrations (id, checksum, migration_name, started_at)
       values (gen_random_uuid()::text, $1, $2, clock_timestamp()) returning id`,
      [sha256(migration.sql), migration.name],
    );
    const before = await transactionNumber(client);
    await client.query(migration.sql);
    if ((await transactionNumber(client)) !== before)
      throw new Error('it ends its own transaction, so it was kept in parts');
    await client.query(
      'update _prisma_migrations set finished_at = clock_timestamp(), applied_steps_count = 1 where id = $1',
      [inserted.rows[0]?.id],
    );
    await client.query('commit');
  } catch (error) {
    await client.query('rollback').catch(() => undefined);
    throw failedMigration(migration, error);
  }
}

function isLocked(error: unknown): boolean {
  const { code } = ((error as Error).cause ?? {}) as { code?: string };
  return code !== undefined && LOCKED.includes(code);
}

function inUse({ name }: Migration, cause: unknown): Error {
  return new Error(
    `A table that the migration ${name} alters was in use in each of ${LOCK_TRIES} tries. Nothing of it was kept. Look in ` +
      'pg_stat_activity for a transaction that stays open (another tool, a dump), end it, and start again.',
    { cause },
  );
}

/** Tried again where a table is in use; each try leaves nothing behind. */
async function applyPatiently(client: ClientBase, migration: Migration, { waiting }: MigrateOptions): Promise<void> {
  for (let tries = 1; ; tries++) {
    try {
      return await applyOne(client, migration);
    } catch (error) {
      if (!isLocked(error)) throw error;
      if (tries >= LOCK_TRIES) throw inUse(migration, error);
      if (tries === 1) waiting?.(`a table that ${migration.name} alters is in use: it is tried again until that ends`);
      await sleep(LOCK_PAUSE_MS);
    }
  }
}

/** What is to come; the history of the database is the one of this folder. */
async function missingIn(
  client: ClientBase,
  directory: string,
  only: ReadonlySet<string> | undefined,
): Promise<Migration[]> {
  const migrations = await readMigrations(directory);
  await client.query(HISTORY_TABLE);
  const history = await readHistory(client);
  for (const applied of history) {
    checkApplied(
      applied,
      migrations.find((migration) => migration.name === applied.name),
      directory,
    );
  }
  const wanted = migrations.filter(({ name }) => only?.has(name) ?? true);
  return wanted.filter((migration) => !history.some((applied) => applied.name === migration.name));
}

export interface MigrateOptions {
  /** The names of those that are to be applied; all where it is left out. */
  readonly only?: ReadonlySet<string>;
  /** Told why it does not go on at once. */
  readonly waiting?: (why: string) => void;
  /** How long a backup that is being made is waited for. */
  readonly backupPatienceMs?: number;
  /** How long another process that migrates is waited for. */
  readonly migrationPatienceMs?: number;
}

/**
 * Brings the database to the newest of prisma/migrations, one transaction each; a second call finds nothing to do. Where
 * there is something, it waits for a backup that is being made, and lets whoever works meanwhile go first.
 */
export async function migrate(
  owner: ClientBase,
  directory: string,
  options: MigrateOptions = {},
): Promise<{ applied: string[] }> {
  const { waiting, backupPatienceMs, migrationPatienceMs } = options;
  const alone = { waiting, patienceMs: migrationPatienceMs };
  const missing = () => missingIn(owner, directory, options.only);
  if ((await aloneMigrating(owner, alone, missing)).length === 0) return { applied: [] };
  const apply = async () => {
    // another process may have applied them meanwhile
    const still = await missing();
    for (const migration of still) await applyPatiently(owner, migration, options);
    return { applied: still.map(({ name }) => name) };
  };
  const beside = { waiting, patienceMs: backupPatienceMs };
  return besideNoBackup(owner, beside, () => aloneMigrating(owner, alone, apply));
}
