import { afterAll, beforeAll, expect, it } from 'vitest';
import { accessFindings } from '../../src/commands/access-findings.ts';
import { noteSetBack } from '../../src/set-back-note.ts';
import { liveAccess, setBackSince } from '../../src/store/access-after-restore.ts';
import { restoreBackup } from '../../src/store/backup/restore-backup.ts';
import { writeBackup } from '../../src/store/backup/write-backup.ts';
import { asOwner, folder } from '../store/backup/backup-world.ts';
import { ownMigrations, type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';

let db: TestDatabase;
let second: TestDatabase;
let files: Awaited<ReturnType<typeof folder>>;

beforeAll(async () => {
  files = await folder();
  db = await testDatabase();
  second = await testDatabase();
});
afterAll(async () => {
  await Promise.all([db.drop(), second.drop()]);
  await files.drop();
});

it('[B6] a token that was revoked after the backup works again after the restore, and that is said with the list', async () => {
  const firm = new TestFirm(db.pool);
  await firm.setUp();
  const { actor } = await firm.client('crew', firm.ids.phone);
  const file = files.file('friday.backup');
  await writeBackup(() => db.owner(), file);
  await db.bypass.query('update token set revoked_at = now() where id = $1', [actor.token]);
  const beganAt = new Date().toISOString();
  const before = await asOwner(db, async (owner) => ({
    setBack: await setBackSince(owner, '2020-01-01T00:00:00Z'),
    access: await liveAccess(owner, beganAt),
  }));
  expect(before.setBack).toBeNull();
  expect(before.access[0]?.tokens.map(({ id }) => id)).not.toContain(actor.token);

  const { header } = await asOwner(second, (owner) =>
    restoreBackup(owner, file, { directory: ownMigrations, now: beganAt }),
  );
  const later = (days: number) => new Date(Date.parse(beganAt) + days * 86_400_000);
  const { setBack, access } = await asOwner(second, async (owner) => ({
    setBack: await setBackSince(owner, later(-30).toISOString()),
    access: await liveAccess(owner, beganAt),
  }));
  expect(setBack?.backupMadeAt?.slice(0, 19)).toBe(header.madeAt.slice(0, 19));
  const [about, list] = accessFindings(setBack, access);
  expect(about).toMatchObject({ about: 'access', todo: expect.stringContaining('revoke again') });
  expect(about?.says).toContain(`revoked or issued after ${setBack?.backupMadeAt} are as they were then`);
  expect(about?.says).toContain('Enrolment codes likewise.');
  expect(list?.says).toContain(`${actor.token} `);
  expect(list?.says).toMatch(/, crew, device ".+", no sync on record/);
  expect(list?.says).toMatch(/, admin, no device, last synced \d{4}-/);

  const warned: unknown[] = [];
  const log = { warn: (...said: unknown[]) => warned.push(said[1]) };
  await noteSetBack(second, later(29), log as unknown as Parameters<typeof noteSetBack>[2]);
  expect(warned).toEqual([expect.stringMatching(/^The data was set back\. Tokens that were revoked or issued after /)]);
  await noteSetBack(second, later(31), log as unknown as Parameters<typeof noteSetBack>[2]);
  await noteSetBack(db, later(0), log as unknown as Parameters<typeof noteSetBack>[2]);
  expect(warned).toHaveLength(1);
  expect(accessFindings(null, access)).toEqual([]);
});
