import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { migrate, migrationsIn } from '../migrations.ts';
import type { BackupHeader, SectionHead } from './backup-format.ts';
import { BackupFault, type BackupReader, checkBackup, readBackup } from './backup-reader.ts';
import { changeEpoch, noteEpoch } from './epochs.ts';
import { type CatalogTable, tableCatalog } from './table-catalog.ts';

/** Rows that every database has from its migrations on; those of the backup take their place. */
const MADE_BY_MIGRATIONS = new Set(['installation', 'epoch']);

const quoted = (name: string): string => `"${name}"`;

/** The backup may be older than this program; newer, or of another one, it may not be. */
async function checkMigrations(file: string, { migrations }: BackupHeader, directory: string): Promise<void> {
  const known = await migrationsIn(directory);
  const unknown = migrations.filter(
    ({ name, checksum }) => !known.some((one) => one.name === name && one.is(checksum)),
  );
  if (unknown.length === 0) return;
  throw new Error(
    `The backup ${file} is of a newer program, or of another one: it has the migration ${unknown.map(({ name }) => name).join(', ')}, ` +
      `which is not in ${directory} as it was applied. Nothing was changed. Restore it with the release that made it, or a later one.`,
  );
}

/** What a newer program has done to the tables cannot be taken back to fill them as they were. */
async function checkTarget(owner: pg.ClientBase, file: string, { migrations }: BackupHeader): Promise<void> {
  const { rows: found } = await owner.query<{ there: boolean }>(
    `select to_regclass('_prisma_migrations') is not null as there`,
  );
  if (found[0]?.there !== true) return;
  const { rows } = await owner.query<{ name: string }>(
    'select migration_name as name from _prisma_migrations where rolled_back_at is null',
  );
  const over = rows.filter(({ name }) => !migrations.some((one) => one.name === name)).map(({ name }) => name);
  if (over.length === 0) return;
  throw new Error(
    `The database was brought further than the backup ${file}: it has ${over.join(', ')}. Nothing was changed. ` +
      'Give an empty database in which nothing was started or migrated yet; it is brought up to date after the restore.',
  );
}

/** Row-level security would hide rows that are there, and COPY does not fill a table that it watches over. */
async function open(owner: pg.ClientBase, tables: readonly CatalogTable[]): Promise<void> {
  for (const { name } of tables) await owner.query(`lock table ${quoted(name)} in access exclusive mode`);
  for (const { name } of tables.filter(({ secured }) => secured)) {
    await owner.query(`alter table ${quoted(name)} no force row level security`);
  }
  for (const { name } of tables.filter((table) => !MADE_BY_MIGRATIONS.has(table.name))) {
    const { rows } = await owner.query(`select from ${quoted(name)} limit 1`);
    if (rows.length === 0) continue;
    throw new Error(
      `The database is not empty: it has rows in ${name}. Nothing was changed. Restore into an empty database, or an ` +
        'empty folder in DATA_DIR; what is in this one would be lost.',
    );
  }
  for (const { name } of tables.filter((table) => MADE_BY_MIGRATIONS.has(table.name))) {
    await owner.query(`delete from ${quoted(name)}`);
  }
}

/** What the database took is counted by the database, beside what the file says of itself. */
async function fill(owner: pg.ClientBase, { table, columns }: SectionHead, reader: BackupReader): Promise<number> {
  const before = reader.rowsRead;
  const into = owner.query(copyFrom(`copy ${quoted(table)} (${columns.map(quoted).join(', ')}) from stdin`));
  await pipeline(Readable.from(reader.rows(), { objectMode: false }), into);
  const read = reader.rowsRead - before;
  if (into.rowCount === read) return read;
  throw new BackupFault(`${table} took ${into.rowCount} of the ${read} rows of its section`);
}

async function load(
  owner: pg.ClientBase,
  reader: BackupReader,
  began: { now: string; madeAt: string },
): Promise<number> {
  const tables = await tableCatalog(owner);
  await open(owner, tables);
  let rows = 0;
  for (let head = await reader.next(); head !== null; head = await reader.next()) {
    const { table } = head;
    if (!tables.some(({ name }) => name === table))
      throw new BackupFault(`it names a table ${table}, which is not there`);
    rows += await fill(owner, head, reader);
  }
  await changeEpoch(owner);
  if (tables.some(({ name }) => name === 'epoch')) {
    await noteEpoch(owner, { beganAt: began.now, how: 'restored', backupMadeAt: began.madeAt });
  }
  for (const { name } of tables.filter(({ secured }) => secured)) {
    await owner.query(`alter table ${quoted(name)} force row level security`);
  }
  return rows;
}

export interface Restored {
  readonly header: BackupHeader;
  readonly rows: number;
  /** Migrations that the backup did not have yet. */
  readonly migrated: readonly string[];
}

async function loadAll(owner: pg.ClientBase, file: string, now: string): Promise<number> {
  return readBackup(file, async ({ madeAt }, reader) => {
    await owner.query(`begin; set local statement_timeout = 0; set local idle_in_transaction_session_timeout = 0`);
    try {
      const rows = await load(owner, reader, { now, madeAt });
      const { command } = await owner.query('commit');
      if (command !== 'COMMIT') throw new Error(`the restore was rolled back: COMMIT was answered ${command}`);
      return rows;
    } catch (error) {
      await owner.query('rollback').catch(() => undefined);
      throw error;
    }
  });
}

/** The tables came to know of epochs only by a migration after the load. */
async function noteRestore(owner: pg.ClientBase, beganAt: string, backupMadeAt: string): Promise<void> {
  await owner.query('begin');
  try {
    await noteEpoch(owner, { beganAt, how: 'restored', backupMadeAt });
    await owner.query('commit');
  } catch (error) {
    await owner.query('rollback').catch(() => undefined);
    throw error;
  }
}

/**
 * Fills an empty database from a backup: the tables as they were when it was made, all rows in one transaction, then
 * the migrations that came since. The epoch is a new one, so that no cursor of the time after the backup is used.
 *
 * @param owner a connection of the owner of the tables, with nothing else going on
 * @throws before anything is committed, where the file is not whole or not for this program, or the database not empty
 */
export async function restoreBackup(
  owner: pg.ClientBase,
  file: string,
  { directory, now }: { readonly directory: string; readonly now: string },
): Promise<Restored> {
  const header = await checkBackup(file);
  await checkMigrations(file, header, directory);
  await checkTarget(owner, file, header);
  await migrate(owner, directory, { only: new Set(header.migrations.map(({ name }) => name)) });
  const rows = await loadAll(owner, file, now);
  const { applied: migrated } = await migrate(owner, directory);
  if (migrated.length > 0) await noteRestore(owner, now, header.madeAt);
  // a plan for a table that was never looked at reads the whole of it
  await owner.query('analyze');
  return { header, rows, migrated };
}
