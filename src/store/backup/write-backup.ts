import type pg from 'pg';
import { to as copyTo } from 'pg-copy-streams';
import { takeBackupLock } from '../migration-locks.ts';
import { listFirms } from '../read/firm-list.ts';
import { END_OF_ROWS, FORMAT, lineOf, newlinesIn, type SectionHead } from './backup-format.ts';
import { BackupSink } from './backup-sink.ts';
import { type CatalogTable, tableCatalog } from './table-catalog.ts';

/** A client, and its last mutation whose receipt is in a snapshot. */
export interface ClientMark {
  readonly client: string;
  readonly last: number;
}

export interface BackupSummary {
  readonly madeAt: string;
  readonly epoch: string;
  readonly rows: number;
  readonly bytes: number;
  readonly sha256: Buffer;
  /** By firm; null where the tables are older than the mark. */
  readonly marks: ReadonlyMap<string, readonly ClientMark[]> | null;
}

/** The server ends what idles in a transaction; a slow disk is no reason to. */
const BEGIN = `begin isolation level repeatable read read only;
set local idle_in_transaction_session_timeout = 0; set local statement_timeout = 0;
set local datestyle = 'ISO'; set local timezone = 'UTC'; set local extra_float_digits = 1`;

interface Snapshot {
  readonly madeAt: string;
  readonly epoch: string;
  readonly postgres: string;
}

async function migrationsOf(owner: pg.ClientBase): Promise<{ name: string; checksum: string }[]> {
  const { rows } = await owner.query<{ name: string; checksum: string }>(
    `select migration_name as name, checksum from _prisma_migrations
where rolled_back_at is null and finished_at is not null order by migration_name`,
  );
  return rows;
}

/** Before it the owner of the tables is shown no firm, and a backup would hold none. */
const FIRMS_ARE_LISTED = '0005_owner_lists_firms';

function mustListFirms(migrations: readonly { readonly name: string }[]): void {
  if (migrations.some(({ name }) => name === FIRMS_ARE_LISTED)) return;
  throw new Error(
    `These tables are older than ${FIRMS_ARE_LISTED}: their owner is shown no firm, and the backup would be empty. Take it ` +
      'with the tools of PostgreSQL, or bring the tables up to date first (npm run cli -- migrate).',
  );
}

async function snapshotOf(owner: pg.ClientBase): Promise<Snapshot> {
  const { rows } = await owner.query<Snapshot>(
    `select to_char(now() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as "madeAt", epoch,
  current_setting('server_version') as postgres from installation`,
  );
  const [row] = rows;
  if (!row) throw new Error('the database has no installation row: it was not set up by the migrations');
  return row;
}

const quoted = (name: string): string => `"${name}"`;

class Writer {
  readonly #owner: pg.ClientBase;
  readonly #sink: BackupSink;
  readonly #unconfirmed: {
    readonly name: string;
    readonly lines: number;
    readonly copy: { readonly rowCount: number };
  }[] = [];
  sections = 0;
  rows = 0;

  constructor(owner: pg.ClientBase, sink: BackupSink) {
    this.#owner = owner;
    this.#sink = sink;
  }

  /** The rows of one table, those of a firm where it has firms. A table without any takes no place. */
  async section({ name, columns }: CatalogTable, firm: string | null): Promise<void> {
    const where = firm === null ? '' : ` where firm = '${firm}'`;
    const select = `select ${columns.map(quoted).join(', ')} from ${quoted(name)}${where}`;
    const copy = this.#owner.query(copyTo(`copy (${select}) to stdout`));
    const head: SectionHead = { table: name, firm, columns: [...columns] };
    let lines = 0;
    for await (const chunk of copy as AsyncIterable<Buffer>) {
      if (lines === 0) await this.#sink.add(lineOf(head));
      lines += newlinesIn(chunk);
      await this.#sink.add(chunk);
    }
    this.#unconfirmed.push({ name, lines, copy });
    if (lines === 0) return;
    await this.#sink.add(END_OF_ROWS);
    await this.#sink.add(lineOf({ rows: lines }));
    this.sections += 1;
    this.rows += lines;
  }

  /** What the database says that it gave comes after the rows, but before the answer to any later question. */
  confirm(): void {
    for (const { name, lines, copy } of this.#unconfirmed.splice(0)) {
      if (lines !== copy.rowCount) throw new Error(`${name} gave ${copy.rowCount} rows in ${lines} lines`);
    }
  }
}

/** What a phone may forget once the file is safe: mutations whose receipts are in the very same snapshot. */
async function marksOf(owner: pg.ClientBase): Promise<ClientMark[]> {
  // a client that is known has receipts up to its last mutation, committed together with it
  const { rows } = await owner.query<ClientMark>(
    'select id as client, last_mutation as last from client where last_mutation > 0 order by id',
  );
  return rows;
}

function hasMarks(tables: readonly CatalogTable[]): boolean {
  return tables.some(({ name, columns }) => name === 'client' && columns.includes('durable'));
}

async function writeAll(owner: pg.ClientBase, sink: BackupSink, tables: readonly CatalogTable[]) {
  const snapshot = await snapshotOf(owner);
  const { madeAt, epoch, postgres } = snapshot;
  const migrations = await migrationsOf(owner);
  mustListFirms(migrations);
  await sink.add(lineOf({ wellround: 'backup', format: FORMAT, madeAt, epoch, postgres, migrations }));
  const writer = new Writer(owner, sink);
  for (const table of tables.filter(({ ofFirm }) => !ofFirm)) await writer.section(table, null);
  const marks = new Map<string, readonly ClientMark[]>();
  const firms = await listFirms(owner);
  writer.confirm();
  for (const { id: firm } of firms) {
    await owner.query(`select set_config('wellround.firm', $1, true)`, [firm]);
    for (const table of tables.filter(({ ofFirm }) => ofFirm)) await writer.section(table, firm);
    marks.set(firm, await marksOf(owner));
    writer.confirm();
  }
  const sha256 = sink.digest();
  const { sections, rows } = writer;
  await sink.add(lineOf({ end: 'backup', sections, rows, sha256: sha256.toString('hex') }));
  return { madeAt, epoch, rows, sha256, marks: hasMarks(tables) ? marks : null };
}

async function readTables(owner: pg.ClientBase): Promise<CatalogTable[]> {
  const tables = await tableCatalog(owner);
  if (!tables.some(({ name }) => name === 'installation')) {
    throw new Error('There is nothing to back up: the database has no tables of this program yet.');
  }
  return tables;
}

/** Everything in one snapshot; the tables cannot be altered meanwhile, and whoever records is not hindered. */
async function inSnapshot<Result>(
  owner: pg.ClientBase,
  work: (tables: readonly CatalogTable[]) => Promise<Result>,
): Promise<Result> {
  const named = await readTables(owner);
  await owner.query(BEGIN);
  await owner.query(`lock table ${named.map(({ name }) => quoted(name)).join(', ')} in access share mode`);
  const result = await work(await readTables(owner));
  await owner.query('commit');
  return result;
}

async function writeWith(owner: pg.ClientBase, file: string): Promise<BackupSummary> {
  await takeBackupLock(owner);
  const sink = await BackupSink.open(file);
  try {
    const written = await inSnapshot(owner, (tables) => writeAll(owner, sink, tables));
    await sink.finish();
    return { ...written, bytes: sink.bytes };
  } catch (error) {
    await sink.abandon();
    throw error;
  }
}

/**
 * Writes everything that the database holds at one moment into a file, which has its name only once it is whole and on
 * the disk. Works on tables of any version since the owner is shown the firms. Nothing is marked yet.
 *
 * @param connect opens a connection of the owner of the tables; it is ended here, since one whose rows were not read to
 *   their end is good for nothing more
 */
export async function writeBackup(connect: () => Promise<pg.Client>, file: string): Promise<BackupSummary> {
  const owner = await connect();
  return writeWith(owner, file).finally(() => owner.end());
}
