import { existsSync } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { restoreBackup } from '../../../src/store/backup/restore-backup.ts';
import { writeBackup } from '../../../src/store/backup/write-backup.ts';
import { recompute } from '../../../src/writes/recompute.ts';
import { ownMigrations, testDatabase } from '../../support/test-database.ts';
import { busyFirm, contentsOf, folder, migrationTexts } from './backup-world.ts';

const now = '2026-05-05T08:00:00.000Z';

let files: Awaited<ReturnType<typeof folder>>;
/** The program as it was before it knew of backups, and as it may be some day. */
let older: string;
let newer: string;

async function migrations(name: string, texts: readonly { readonly name: string; readonly sql: string }[]) {
  for (const text of texts) {
    await mkdir(files.file(`${name}/${text.name}`), { recursive: true });
    await writeFile(files.file(`${name}/${text.name}/migration.sql`), text.sql);
  }
  return files.file(name);
}

const LATER = {
  name: '9001_later',
  sql: `alter table ledger add column weight integer not null default 7;
create table later (firm uuid not null, id uuid not null, primary key (firm, id));`,
};

beforeAll(async () => {
  files = await folder();
  const all = await migrationTexts();
  older = await migrations(
    'older',
    all.filter(({ name }) => name < '0009'),
  );
  newer = await migrations('newer', [...all, LATER]);
});
afterAll(() => files.drop());

describe('a backup of an older program', () => {
  it('[B2] is refused where its tables show their owner no firm, instead of being made empty', async () => {
    const all = await migrationTexts();
    const oldest = await migrations(
      'oldest',
      all.filter(({ name }) => name < '0005'),
    );
    const db = await testDatabase({ migrations: oldest });
    await expect(writeBackup(() => db.owner(), files.file('oldest.backup'))).rejects.toThrow(
      /the backup would be empty/,
    );
    expect(existsSync(files.file('oldest.backup'))).toBe(false);
    await db.drop();
  });

  it('[B5] is restored into the tables as they were, and these are brought up to date with what is in them', async () => {
    const db = await testDatabase();
    const firm = await busyFirm(db);
    await writeBackup(() => db.owner(), files.file('present'));
    const before = await contentsOf(db, ['epoch', 'epoch_anchor', 'backup', 'ledger']);
    const { rows } = await db.bypass.query('select count(*)::int as n from ledger');
    await db.drop();
    const empty = await testDatabase({ migrations: await migrations('none', [{ name: '0000_x', sql: 'select 1' }]) });
    // nothing was ever migrated here
    const owner = await empty.owner();
    await owner.query('drop table _prisma_migrations');
    const done = await restoreBackup(owner, files.file('present'), { directory: newer, now });
    expect(done.migrated).toEqual([LATER.name]);
    expect(await contentsOf(empty, ['epoch', 'epoch_anchor', 'backup', 'ledger', 'later'])).toEqual(before);
    const after = await empty.bypass.query('select count(*)::int as n, min(weight) as least from ledger');
    expect(after.rows).toEqual([{ n: rows[0]?.n, least: 7 }]);
    const names = (await owner.query('select migration_name as name from _prisma_migrations order by 1')).rows;
    expect(names.map(({ name }) => name)).toContain(LATER.name);
    expect(await recompute(empty.pool, firm.id)).toEqual([]);
    await empty.drop();
  });

  it('[B5] [B6] may be of a time before there were marks and epochs: it is made, and restored under a new epoch', async () => {
    const old = await testDatabase({ migrations: older });
    const ids = { firm: '01970000-0000-7000-8000-00000000000a', token: '01970000-0000-7000-8000-00000000000b' };
    await old.bypass.query(`insert into firm values ($1, $1, 1, false, null, 'Elders')`, [ids.firm]);
    await old.bypass.query(
      `insert into token (firm, id, hash, label, role, created_at) values ($1, $2, sha256('x'), 'x', 'crew', now())`,
      [ids.firm, ids.token],
    );
    await old.bypass.query(
      `insert into client (firm, id, token, last_mutation, schema_version) values ($1, $1, $2, 3, 1)`,
      [ids.firm, ids.token],
    );
    await old.bypass.query(
      `insert into ledger (firm, feed, seq, record, kind, rev, state, received_at, live_count, content_hash, history_hash)
values ($1, 'firm', 1, $1, 'firm', 1, '{}', now(), 1, '\\x0000000000000000', sha256('y'))`,
      [ids.firm],
    );
    const made = await writeBackup(() => old.owner(), files.file('old'));
    expect(made.marks).toBeNull();
    await old.drop();
    const target = await testDatabase({ migrations: older });
    const owner = await target.owner();
    const { migrated } = await restoreBackup(owner, files.file('old'), { directory: ownMigrations, now });
    expect(migrated[0]).toBe('0009_backups');
    const { rows } = await target.bypass.query(
      `select e.how, a.feed, a.tail::int as tail, c.durable::int as durable, c.last_mutation::int as last
from installation join epoch e using (epoch) join epoch_anchor a using (epoch) cross join client c`,
    );
    expect(rows).toEqual([{ how: 'restored', feed: 'firm', tail: 1, durable: 0, last: 3 }]);
    await target.drop();
  });
});

describe('what does not fit this program', () => {
  it('[B4] a backup of a newer program is refused, and one whose migrations were others', async () => {
    const future = await testDatabase({ migrations: newer });
    await writeBackup(() => future.owner(), files.file('future'));
    await future.drop();
    const db = await testDatabase();
    const into = { directory: ownMigrations, now };
    await expect(restoreBackup(await db.owner(), files.file('future'), into)).rejects.toThrow(
      /is of a newer program, or of another one: it has the migration 9001_later, .*Nothing was changed/s,
    );
    await db.drop();
  });

  it('[B4] a database that was brought further than the backup is refused, since it cannot be taken back', async () => {
    const db = await testDatabase();
    await writeBackup(() => db.owner(), files.file('plain'));
    await db.drop();
    const further = await testDatabase({ migrations: newer });
    const error = restoreBackup(await further.owner(), files.file('plain'), { directory: newer, now });
    await expect(error).rejects.toThrow(/brought further than the backup .*9001_later.*Nothing was changed/s);
    await further.drop();
  });
});
