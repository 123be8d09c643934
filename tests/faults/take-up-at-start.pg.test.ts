import { mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';
import { minute, visitDrafts } from '../support/visit-drafts.ts';
import { RealServer } from './real-server.ts';

let db: TestDatabase;
let folder: string;

beforeAll(async () => {
  db = await testDatabase();
  folder = await mkdtemp(path.join(os.tmpdir(), 'take-up-'));
});
afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
  await db.drop();
});

/** A record as it lies there after an upgrade: kept for a newer server, and readable by this one. */
async function keptForNewer(firm: TestFirm): Promise<string> {
  const crew = await firm.client('crew', firm.ids.phone);
  const { drafts, ids } = visitDrafts(firm);
  const id = v7();
  const set = { visit: ids.visit, depthToBottomFt: '61.6', observed: firm.observed(minute(2)) };
  const [early] = await crew.push({ kind: 'sounding', id, set });
  const kept = `update set_aside set code = 'newer_server_needed', standing = 'kept', waits_for = '{}'
where firm = $1 and id = $2`;
  await db.bypass.query(kept, [firm.id, early?.setAside]);
  await crew.push(...drafts);
  return id;
}

async function isThere({ id: firm }: TestFirm, id: string): Promise<boolean> {
  const text = 'select 1 from head where firm = $1 and id = $2 and not gone';
  return (await db.bypass.query(text, [firm, id])).rowCount === 1;
}

it('[V6] a server that was started applies what was kept for it, without being asked', async () => {
  const firms = [new TestFirm(db.pool), new TestFirm(db.pool)];
  const kept: [TestFirm, string][] = [];
  for (const firm of firms) {
    await firm.setUp();
    kept.push([firm, await keptForNewer(firm)]);
  }
  const there = () => Promise.all(kept.map(([firm, id]) => isThere(firm, id)));
  expect(await there()).toEqual([false, false]);
  const { databaseUrl: DATABASE_URL, appDatabaseUrl } = db;
  const app = appDatabaseUrl === undefined ? {} : { APP_DATABASE_URL: appDatabaseUrl };
  const server = await RealServer.start(folder, 0, { DATABASE_URL, ...app });
  await vi.waitFor(async () => expect(await there()).toEqual([true, true]), 20_000).finally(() => server.stop());
  expect(server.log()).toBe('');
}, 60_000);
