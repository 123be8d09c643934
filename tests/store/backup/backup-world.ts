import { mkdtemp, readFile, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import type pg from 'pg';
import { v7 } from 'uuid';
import { tableCatalog } from '../../../src/store/backup/table-catalog.ts';
import { ownMigrations, type TestDatabase } from '../../support/test-database.ts';
import { TestFirm } from '../../support/test-firm.ts';
import { minute, purgeDrafts } from '../../support/visit-drafts.ts';

/** Text that a backup has to take as it is: what ends rows, separates columns and stands for nothing in COPY. */
export const NASTY = 'a\\.\nb\t\\N "c" \u{1f4a7} \\.';

/** A firm with work in it: conflicts, flags, summaries, what was set aside, and a visit that left its feed. */
export async function busyFirm(db: TestDatabase): Promise<TestFirm> {
  const firm = new TestFirm(db.pool);
  const admin = await firm.setUp();
  const later = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site: firm.ids.site, name: 'Later', starts: '2026-06-01', ends: '2026-06-02', standing: 'open', plan };
  await admin.push({ kind: 'event', id: later, set });
  const crew = await firm.client('crew', firm.ids.phone);
  const other = await firm.client('crew', firm.ids.otherPhone);
  const [first, second] = [purgeDrafts(firm, { outcome: 'sampled', left: minute(40) }), purgeDrafts(firm)];
  await crew.push(...first.drafts, ...second.drafts);
  const amend = { verb: 'amend', kind: 'purge', id: first.ids.purge, base: { rev: 1 } };
  await crew.push({ ...amend, set: { remark: NASTY } });
  await other.push({ ...amend, set: { remark: 'another' } });
  const rehome = { verb: 'rehome', kind: 'visit', id: second.ids.visit, base: { rev: 1 }, set: { event: later } };
  await admin.push({ ...rehome, reason: 'wrong round' });
  await other.answer([Buffer.from([0xff, 0x00, 0x5c, 0x2e, 0x0a]), Buffer.from('{"not": "a mutation"}')], other.next);
  return firm;
}

/** Every row of every table as one text each, without what a restore makes anew. */
export async function contentsOf(
  { bypass }: TestDatabase,
  but: readonly string[] = [],
): Promise<Map<string, string[]>> {
  const client = await bypass.connect();
  const contents = new Map<string, string[]>();
  try {
    for (const { name, columns } of await tableCatalog(client)) {
      if (but.includes(name)) continue;
      const all = columns.filter((column) => name !== 'installation' || column !== 'epoch');
      const { rows } = await client.query<{ row: string }>(
        `select row(${all.map((column) => `"${column}"`).join(', ')})::text as row from "${name}" order by 1`,
      );
      contents.set(
        name,
        rows.map(({ row }) => row),
      );
    }
  } finally {
    client.release();
  }
  return contents;
}

export async function folder(): Promise<{
  readonly file: (name: string) => string;
  readonly drop: () => Promise<void>;
}> {
  const made = await mkdtemp(path.join(os.tmpdir(), 'backup-'));
  return { file: (name) => path.join(made, name), drop: () => rm(made, { recursive: true, force: true }) };
}

export async function asOwner<Result>(db: TestDatabase, work: (owner: pg.Client) => Promise<Result>): Promise<Result> {
  return work(await db.owner());
}

export async function migrationTexts(): Promise<{ readonly name: string; readonly sql: string }[]> {
  const { readdir } = await import('node:fs/promises');
  const names = (await readdir(ownMigrations, { withFileTypes: true })).filter((one) => one.isDirectory());
  return Promise.all(
    names
      .map(({ name }) => name)
      .sort()
      .map(async (name) => ({ name, sql: await readFile(path.join(ownMigrations, name, 'migration.sql'), 'utf8') })),
  );
}
