import { afterAll, beforeAll, expect, it } from 'vitest';
import { healthOf } from '../../src/store/health.ts';
import { ownMigrations, type TestDatabase, testDatabase } from '../support/test-database.ts';
import { busyFirm } from './backup/backup-world.ts';

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

it('tells how the tables stand and what waits in each firm, and changes nothing', async () => {
  const [one, two] = [await busyFirm(db), await busyFirm(db)];
  const after = (ms: number) => new Date(one.nowMs + ms).toISOString();
  const ask = async (ms: number) => {
    const question = { directory: ownMigrations, silentBefore: after(ms) };
    return healthOf(await db.owner(), question);
  };
  const quiet = await ask(-1);
  expect(quiet).toMatchObject({ missingMigrations: [], unknownMigrations: [], backupMadeAt: null });
  expect(quiet.version).toMatch(/^\d+/);
  expect(quiet.firms.map(({ id }) => id).sort()).toEqual([one.id, two.id].sort());
  expect(quiet.firms.map(({ silent }) => silent)).toEqual([0, 0]);
  await db.bypass.query(
    'update client set unsent_count = 3 where firm = $1 and id = (select min(id::text)::uuid from client where firm = $1 and pushed_at is not null)',
    [one.id],
  );
  const later = await ask(1);
  const of = (id: string) => later.firms.find((firm) => firm.id === id);
  expect([of(one.id)?.silent, of(two.id)?.silent]).toEqual([1, 0]);
  for (const { id } of [one, two]) {
    const { rows } = await db.bypass.query(
      `select code, count(*) as count, min(received_at) as oldest from set_aside
where firm = $1 and standing <> 'released' and outcome = 'set_aside' group by code order by code`,
      [id],
    );
    expect(rows.reduce((sum: number, { count }) => sum + count, 0)).toBe(2);
    expect(of(id)?.setAside.toSorted((a, b) => (a.code < b.code ? -1 : 1))).toEqual(rows);
  }
  await db.bypass.query(`insert into backup values (sha256('x'), gen_random_uuid(), '2026-05-05T01:00:00Z', 1, 1)`);
  expect((await ask(1)).backupMadeAt).toBe('2026-05-05T01:00:00Z');
});

it('looks at nothing in tables that are of another version', async () => {
  const owner = await db.owner();
  const fewer = await testDatabase();
  await busyFirm(fewer);
  const empty = await fewer.owner();
  await empty.query(`delete from _prisma_migrations where migration_name = '0009_backups'`);
  const question = {
    directory: ownMigrations,
    silentBefore: '2026-01-01T00:00:00Z',
  };
  expect(await healthOf(empty, question)).toMatchObject({
    missingMigrations: ['0009_backups'],
    firms: [],
    backupMadeAt: null,
  });
  await empty.query(
    `insert into _prisma_migrations (id, checksum, migration_name, finished_at) values ('a', 'c', '0009_backups', now()), ('b', 'c', '9001_later', now())`,
  );
  expect(await healthOf(empty, question)).toMatchObject({
    missingMigrations: [],
    unknownMigrations: ['9001_later'],
    firms: [],
    backupMadeAt: null,
  });
  await empty.query('drop table _prisma_migrations');
  expect((await healthOf(empty, question)).missingMigrations.length).toBeGreaterThan(5);
  await fewer.drop();
  await owner.end();
});
