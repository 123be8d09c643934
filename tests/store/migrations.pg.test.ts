import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import type pg from 'pg';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test, vi } from 'vitest';
import { writeBackup } from '../../src/store/backup/write-backup.ts';
import { besideNoBackup, takeBackupLock } from '../../src/store/migration-locks.ts';
import { migrate } from '../../src/store/migrations.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';

let empty: string;
let directory: string;
let database: TestDatabase;
let owner: pg.Client;

const write = (name: string, sql: string): void => {
  mkdirSync(path.join(directory, name), { recursive: true });
  writeFileSync(path.join(directory, name, 'migration.sql'), sql);
};

beforeAll(async () => {
  empty = await mkdtemp(path.join(os.tmpdir(), 'wellround-migrations-'));
});
afterAll(() => rm(empty, { recursive: true }));

beforeEach(async () => {
  directory = await mkdtemp(path.join(os.tmpdir(), 'wellround-migrations-'));
  writeFileSync(path.join(directory, 'migration_lock.toml'), 'provider = "postgresql"\n');
  write('0002_more', 'alter table well add column depth numeric;');
  write('0001_init', 'create table well (id int primary key);\ncreate index on well (id);');
  database = await testDatabase({ migrations: empty });
  owner = await database.owner();
});
afterEach(async () => {
  await database.drop();
  await rm(directory, { recursive: true });
});

interface Row {
  migration_name: string;
  checksum: string;
  finished: boolean;
  applied_steps_count: number;
}

const history = async (): Promise<Row[]> =>
  (
    await owner.query<Row>(
      `select migration_name, checksum, finished_at is not null as finished, applied_steps_count
       from _prisma_migrations order by started_at`,
    )
  ).rows;

const sha256 = (text: string): string => createHash('sha256').update(text).digest('hex');

test('applies in the order of names, writes Prisma’s table, and finds nothing to do the second time', async () => {
  expect(await migrate(owner, directory)).toEqual({ applied: ['0001_init', '0002_more'] });
  expect(await history()).toEqual([
    {
      migration_name: '0001_init',
      checksum: sha256('create table well (id int primary key);\ncreate index on well (id);'),
      finished: true,
      applied_steps_count: 1,
    },
    {
      migration_name: '0002_more',
      checksum: sha256('alter table well add column depth numeric;'),
      finished: true,
      applied_steps_count: 1,
    },
  ]);
  expect(await migrate(owner, directory)).toEqual({ applied: [] });
});

test('two processes at once: each migration is applied once', async () => {
  const other = await database.owner();
  const both = await Promise.all([migrate(owner, directory), migrate(other, directory)]);
  expect(both.flatMap(({ applied }) => applied).sort()).toEqual(['0001_init', '0002_more']);
});

test('[B1] waits for a backup that is being made, saying so once, and hinders nobody meanwhile', async () => {
  write('0003_late', 'alter table well add column late int;');
  await migrate(owner, directory, { only: new Set(['0001_init', '0002_more']) });
  const [backup, phone] = [await database.owner(), await database.owner()];
  await takeBackupLock(backup);
  // as a backup keeps them until it ends
  await backup.query('begin; lock table well in access share mode');
  const waiting = vi.fn();
  const migrated = migrate(owner, directory, { waiting });
  await vi.waitFor(() => expect(waiting).toHaveBeenCalled());
  const other = await database.owner();
  await expect(migrate(other, directory, { backupPatienceMs: 200 })).rejects.toThrow(
    /A backup has been under way for more than 0.2 seconds.*Nothing was changed. Start again when it has ended/,
  );
  // a process of the version that is there starts all the same
  expect(await migrate(other, directory, { only: new Set(['0001_init', '0002_more']) })).toEqual({ applied: [] });
  await phone.query(`set lock_timeout = '100ms'`);
  await phone.query('insert into well (id) values (1)');
  await backup.end();
  expect(await migrated).toEqual({ applied: ['0003_late'] });
  expect(waiting.mock.calls).toEqual([[expect.stringMatching(/^a backup is being made: the tables are brought up/)]]);
});

test('[B1] while the tables are brought up to date no backup is begun', async () => {
  const file = path.join(directory, 'one.backup');
  const begun = besideNoBackup(owner, {}, () => writeBackup(() => database.owner(), file));
  await expect(begun).rejects.toThrow(/is being made, or its tables are brought up to date. Wait until/);
});

test('waits for another process that migrates, and says that it is no backup', async () => {
  const other = await database.owner();
  await other.query('select pg_advisory_lock(72707371), pg_advisory_lock(72707369)');
  const waiting = vi.fn();
  await expect(migrate(owner, directory, { waiting, migrationPatienceMs: 200 })).rejects.toThrow(
    /Another process has been migrating this database for more than 0.2 seconds/,
  );
  await expect(besideNoBackup(owner, { waiting, patienceMs: 200 }, async () => 0)).rejects.toThrow(
    /Another process has been migrating/,
  );
  const said = expect.stringMatching(/^another process brings the tables up to date/);
  expect(waiting.mock.calls).toEqual([[said], [said]]);
  const migrated = migrate(owner, directory, { waiting });
  await vi.waitFor(() => expect(waiting).toHaveBeenCalledTimes(3));
  await other.end();
  expect(await migrated).toEqual({ applied: ['0001_init', '0002_more'] });
});

test('what the database ended over a deadlock is tried again', async () => {
  // numbers of a sequence are not taken back with the transaction
  await owner.query('create sequence tries');
  const raise = `raise exception 'deadlock detected' using errcode = '40P01'`;
  write('0002_more', `do $$ begin if nextval('tries') = 1 then ${raise}; end if; end $$;`);
  const waiting = vi.fn();
  expect(await migrate(owner, directory, { waiting })).toEqual({ applied: ['0001_init', '0002_more'] });
  expect(waiting.mock.calls).toEqual([[expect.stringMatching(/^a table that 0002_more alters is in use/)]]);
});

test('gives up waiting for a table before the database looks for a deadlock', async () => {
  write(
    '0003_late',
    `do $$ begin
  if current_setting('lock_timeout')::interval >= current_setting('deadlock_timeout')::interval then
    raise exception 'whoever writes meanwhile would be ended';
  end if;
end $$;`,
  );
  expect((await migrate(owner, directory)).applied).toContain('0003_late');
});

test('lets those go first who use a table, instead of having everybody wait behind it', async () => {
  write('0003_late', 'alter table well add column late int;');
  await migrate(owner, directory, { only: new Set(['0001_init', '0002_more']) });
  const [reader, phone] = [await database.owner(), await database.owner()];
  await reader.query('begin; select from well');
  const waiting = vi.fn();
  const migrated = migrate(owner, directory, { waiting });
  await vi.waitFor(() => expect(waiting).toHaveBeenCalled(), 10_000);
  expect(waiting.mock.calls).toEqual([[expect.stringMatching(/^a table that 0003_late alters is in use/)]]);
  await phone.query(`set lock_timeout = '5s'`);
  for (const id of [1, 2, 3]) await phone.query('insert into well (id) values ($1)', [id]);
  await reader.query('commit');
  expect(await migrated).toEqual({ applied: ['0003_late'] });
}, 20_000);

test('a migration that fails leaves nothing, names itself and the line, and can be corrected', async () => {
  write('0002_more', 'create table extra (id int);\n\nalter table wel add column depth numeric;');
  await expect(migrate(owner, directory)).rejects.toThrow(
    /0002_more failed: relation "wel" does not exist.*Nothing of it was kept/,
  );
  expect((await history()).map((row) => row.migration_name)).toEqual(['0001_init']);
  expect((await owner.query("select to_regclass('extra') as extra")).rows).toEqual([{ extra: null }]);
  write('0002_more', 'alter table well add column depth numeric;\nselect 1 +;');
  await expect(migrate(owner, directory)).rejects.toThrow(/0002_more failed near line 2: syntax error/);
  write('0002_more', 'alter table well add column depth numeric;');
  expect(await migrate(owner, directory)).toEqual({ applied: ['0002_more'] });
});

test('a migration that commits by itself is refused, and reported as unfinished from then on', async () => {
  write('0002_more', 'alter table well add column depth numeric; commit; create table extra (id int);');
  await expect(migrate(owner, directory)).rejects.toThrow(/0002_more failed: it ends its own transaction/);
  await expect(migrate(owner, directory)).rejects.toThrow(/0002_more was begun.*never finished.*migrate resolve/s);
});

test('an applied migration that was changed since is named with both checksums; other line ends are no change', async () => {
  await migrate(owner, directory);
  write('0001_init', 'create table well (id int primary key);\r\ncreate index on well (id);');
  expect(await migrate(owner, directory)).toEqual({ applied: [] });
  write('0001_init', 'create table well (id bigint primary key);');
  await expect(migrate(owner, directory)).rejects.toThrow(
    new RegExp(`0001_init was changed.*${sha256('create table well (id bigint primary key);')}.*new migration`),
  );
});

test('a database that is newer than the program is left alone', async () => {
  await migrate(owner, directory);
  await rm(path.join(directory, '0002_more'), { recursive: true });
  write('0003_late', 'create table late (id int);');
  await expect(migrate(owner, directory)).rejects.toThrow(/newer than this program.*0002_more/);
  expect((await owner.query("select to_regclass('late') as late")).rows).toEqual([{ late: null }]);
});

test('a migration that another tool began and did not finish is named with its log; one it rolled back is applied', async () => {
  await migrate(owner, directory);
  write('0003_late', 'create table late (id int);');
  await owner.query(`insert into _prisma_migrations (id, checksum, migration_name, logs)
                     values ('a', 'c', '0003_late', 'ERROR: disk full')`);
  await expect(migrate(owner, directory)).rejects.toThrow(/0003_late was begun.*disk full.*migrate resolve/s);
  await owner.query("update _prisma_migrations set rolled_back_at = now() where id = 'a'");
  expect(await migrate(owner, directory)).toEqual({ applied: ['0003_late'] });
});

test('a folder without a script, and a folder that is not there, are named', async () => {
  mkdirSync(path.join(directory, '0003_empty'));
  await expect(migrate(owner, directory)).rejects.toThrow(/0003_empty holds no migration.sql/);
  await expect(migrate(owner, path.join(directory, 'nowhere'))).rejects.toThrow(/nowhere.*cannot be read.*ENOENT/s);
});
