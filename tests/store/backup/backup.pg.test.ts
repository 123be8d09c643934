import { readdirSync } from 'node:fs';
import { readFile, stat, truncate, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { feedPage } from '../../../src/reads/feed-page.ts';
import { BackupSink } from '../../../src/store/backup/backup-sink.ts';
import { declareEpoch } from '../../../src/store/backup/epochs.ts';
import { markDurable } from '../../../src/store/backup/mark-durable.ts';
import { restoreBackup } from '../../../src/store/backup/restore-backup.ts';
import { writeBackup } from '../../../src/store/backup/write-backup.ts';
import { findToken, newSecret, secretHash } from '../../../src/store/tokens.ts';
import { insertToken } from '../../../src/store/write/token-rows.ts';
import { compact } from '../../../src/writes/compact.ts';
import { recompute } from '../../../src/writes/recompute.ts';
import { ownMigrations, type TestDatabase, testDatabase } from '../../support/test-database.ts';
import type { TestFirm } from '../../support/test-firm.ts';
import { purgeDrafts } from '../../support/visit-drafts.ts';
import { asOwner, busyFirm, contentsOf, folder } from './backup-world.ts';

const NOW = '2026-05-05T08:00:00.000Z';
const INTO = { directory: ownMigrations, now: NOW };

let db: TestDatabase;
let firms: TestFirm[];
let files: Awaited<ReturnType<typeof folder>>;
let secret: string;

beforeAll(async () => {
  files = await folder();
  db = await testDatabase();
  firms = [await busyFirm(db), await busyFirm(db)];
  secret = newSecret();
  const [firm] = firms as [TestFirm];
  const row = { firm: firm.id, id: firm.ids.ann, hash: secretHash(secret), label: 'x', role: 'crew' as const };
  await insertToken(db.pool, { ...row, device: firm.ids.phone, createdAt: NOW, expiresAt: null });
  const now = () => new Date(firm.nowMs);
  await compact(db.pool, firm.id, { before: new Date(firm.nowMs + 1), now });
  await writeBackup(() => db.owner(), files.file('whole'));
}, 60_000);
afterAll(async () => {
  await db.drop();
  await files.drop();
});

async function restored(name: string, work: (target: TestDatabase) => Promise<void>): Promise<void> {
  const target = await testDatabase();
  try {
    await asOwner(target, (owner) => restoreBackup(owner, files.file(name), INTO));
    await work(target);
  } finally {
    await target.drop();
  }
}

/** What is said where a file is refused; the database stays as empty as it was. */
async function refusedText(name: string): Promise<string> {
  const target = await testDatabase();
  try {
    const before = await contentsOf(target);
    const error = await asOwner(target, (owner) => restoreBackup(owner, files.file(name), INTO)).catch(
      (thrown: unknown) => thrown as Error,
    );
    if (!(error instanceof Error)) throw new Error('it was restored');
    expect(await contentsOf(target)).toEqual(before);
    const { rows } = await target.bypass.query(
      'select relname from pg_class where relrowsecurity and not relforcerowsecurity',
    );
    expect(rows).toEqual([]);
    return error.message;
  } finally {
    await target.drop();
  }
}

async function lastMutations(of: TestDatabase): Promise<Map<string, number>> {
  const { rows } = await of.bypass.query<{ client: string; last: number }>(
    'select client, max(mutation)::int as last from receipt join client c on c.firm = receipt.firm and c.id = client group by client',
  );
  return new Map(rows.map(({ client, last }) => [client, last]));
}

async function durables(of: TestDatabase): Promise<Map<string, number>> {
  const { rows } = await of.bypass.query<{ id: string; durable: number }>(
    'select id, durable::int as durable from client',
  );
  return new Map(rows.map(({ id, durable }) => [id, durable]));
}

describe('a backup', () => {
  it('[B1] [B5] holds every row of every table, and a restore gives them back to the byte, of several firms', async () => {
    const before = await contentsOf(db, ['epoch', 'epoch_anchor', 'backup']);
    expect([...before.values()].reduce((sum, rows) => sum + rows.length, 0)).toBeGreaterThan(300);
    const without = ['device_clock', 'well_alias'];
    const empty = [...before]
      .filter(([name, rows]) => rows.length === 0 && !without.includes(name))
      .map(([name]) => name);
    console.info(`empty tables: ${empty.join()}`);
    await restored('whole', async (target) => {
      expect(await contentsOf(target, ['epoch', 'epoch_anchor', 'backup'])).toEqual(before);
      for (const { id } of firms) expect(await recompute(target.pool, id)).toEqual([]);
      expect(await findToken(target.pool, secret)).toMatchObject({ firm: firms[0]?.id, role: 'crew' });
    });
  });

  it('[B5] is a database like any other: row-level security is forced again, and work goes on', async () => {
    await restored('whole', async (target) => {
      const { rows } = await target.bypass.query(
        'select relname from pg_class where relrowsecurity and not relforcerowsecurity',
      );
      expect(rows).toEqual([]);
      const [firm] = firms as [TestFirm];
      const { openLane } = await import('../../../src/writes/lane.ts');
      const lane = openLane({ pool: target.pool, now: () => new Date(firm.nowMs), committed: () => undefined });
      const { TestClient } = await import('../../support/test-firm.ts');
      const { rows: tokens } = await target.bypass.query('select id from token where firm = $1 and role = $2', [
        firm.id,
        'admin',
      ]);
      const actor = {
        firm: firm.id,
        token: tokens[0]?.id,
        role: 'admin',
        device: null,
        person: null,
        revoked: false,
      } as const;
      const outcomes = await new TestClient(actor, lane).push(...purgeDrafts(firm).drafts);
      expect(outcomes.map(({ outcome }) => outcome)).toEqual(outcomes.map(() => 'applied'));
      expect(await recompute(target.pool, firm.id)).toEqual([]);
    });
  });

  it('[B1] is of one moment, while people go on working, and nobody waits for it', async () => {
    const [firm] = firms as [TestFirm];
    const crew = await firm.client('crew', firm.ids.phone);
    const before = await contentsOf(db, ['epoch', 'epoch_anchor', 'backup']);
    let pushes = 0;
    let working = true;
    const work = (async () => {
      while (working) {
        await crew.push(...purgeDrafts(firm).drafts);
        pushes += 1;
      }
    })();
    for (const name of ['m1', 'm2', 'm3']) await writeBackup(() => db.owner(), files.file(name));
    working = false;
    await work;
    expect(pushes).toBeGreaterThan(3);
    for (const name of ['m1', 'm3']) {
      await restored(name, async (target) => {
        expect(await recompute(target.pool, firm.id)).toEqual([]);
        const after = await contentsOf(target);
        expect(after.get('ledger')?.length).toBeGreaterThanOrEqual(before.get('ledger')?.length ?? 0);
        // each push is there whole or not at all
        const { rows } = await target.bypass.query('select count(*)::int as n from receipt where client = $1', [
          crew.id,
        ]);
        expect(rows[0]?.n % 6).toBe(0);
      });
    }
  }, 60_000);

  it('[B2] is not written over another, is for its owner only, and two at once are not made', async () => {
    await expect(writeBackup(() => db.owner(), files.file('whole'))).rejects.toThrow(/is there already/);
    expect((await stat(files.file('whole'))).mode & 0o777).toBe(0o600);
    const two = ['one', 'two'].map((name) => writeBackup(() => db.owner(), files.file(name)));
    const results = await Promise.allSettled(two);
    const reasons = results.flatMap((result) => (result.status === 'rejected' ? [String(result.reason)] : []));
    expect(reasons).toEqual([expect.stringMatching(/Another backup of this database is being made/)]);
  });

  it('[B2] writes over no file that came while it was made, and is for its owner alone', async () => {
    const file = files.file('late');
    const sink = await BackupSink.open(file);
    await sink.add(Buffer.from('mine'));
    const second = await BackupSink.open(file);
    await second.add(Buffer.from('of another database'));
    await second.finish();
    await expect(sink.finish()).rejects.toThrow(/late is there already, and is not written over/);
    await sink.abandon();
    expect(await readFile(file, 'utf8')).toBe('of another database');
    expect((await stat(file)).mode & 0o777).toBe(0o600);
    expect(readdirSync(files.file('.')).filter((name) => name.startsWith('late'))).toEqual(['late']);
  });

  it('[B2] leaves no file where it cannot be finished, and says why', async () => {
    const owner = await db.owner();
    const { rows } = await owner.query<{ pid: number }>('select pg_backend_pid() as pid');
    const backup = writeBackup(async () => owner, files.file('cut'));
    await db.bypass.query('select 1');
    const admin = await db.owner();
    await admin.query('select pg_terminate_backend($1)', [rows[0]?.pid]);
    await expect(backup).rejects.toThrow();
    expect(readdirSync(files.file('.')).filter((name) => name.startsWith('cut'))).toEqual([]);
    await expect(writeBackup(() => db.owner(), files.file('no/such/folder'))).rejects.toThrow(
      /could not be written: .*ENOENT.*phones keep what they keep/s,
    );
  });
});

describe('what is durable', () => {
  it("[B3] is each client's last mutation in the file, to the number, and only once the file is safe", async () => {
    const own = await testDatabase();
    const firm = await busyFirm(own);
    const crew = await firm.client('crew', firm.ids.phone);
    await crew.push(...purgeDrafts(firm).drafts);
    const inFile = await lastMutations(own);
    expect(inFile.size).toBeGreaterThan(3);
    const made = await writeBackup(() => own.owner(), files.file('durable'));
    // written after the snapshot was taken: not in the file
    await crew.push(...purgeDrafts(firm).drafts);
    expect([...(await durables(own)).values()].every((mark) => mark === 0)).toBe(true);
    expect(await asOwner(own, (owner) => markDurable(owner, made))).toBe(inFile.size);
    expect(await durables(own)).toEqual(inFile);
    expect((await lastMutations(own)).get(crew.id)).toBe((inFile.get(crew.id) ?? 0) + 6);
    // once more it moves nothing, and never back
    expect(await asOwner(own, (owner) => markDurable(owner, made))).toBe(0);
    const older = {
      ...made,
      marks: new Map([...(made.marks ?? [])].map(([id, all]) => [id, all.map((one) => ({ ...one, last: 1 }))])),
    };
    expect(await asOwner(own, (owner) => markDurable(owner, older))).toBe(0);
    expect(await durables(own)).toEqual(inFile);
    const { rows } = await own.bypass.query('select row_count::int as n, byte_count::int as bytes from backup');
    expect(rows).toEqual([{ n: made.rows, bytes: (await stat(files.file('durable'))).size }]);
    // of another history nothing is marked
    await asOwner(own, (owner) => declareEpoch(owner, NOW));
    const further = {
      ...made,
      marks: new Map([[firm.id, [{ client: crew.id, last: (inFile.get(crew.id) ?? 0) + 6 }]]]),
    };
    expect(await asOwner(own, (owner) => markDurable(owner, further))).toBe(0);
    await own.drop();
  });
});

describe('a file that is not the backup that was written', () => {
  it('[B4] is refused wherever it was cut, and nothing is changed', async () => {
    const { size } = await stat(files.file('whole'));
    for (const [at, keep] of [0, 10, 300, size / 3, size / 2, size - 200, size - 1].map(Math.floor).entries()) {
      const name = `cut-${at}`;
      await writeFile(files.file(name), await readFile(files.file('whole')));
      await truncate(files.file(name), keep);
      expect(await refusedText(name)).toMatch(/cannot be used: it (ends too early: it was cut|does not begin)/);
    }
  }, 60_000);

  it('[B4] is refused wherever a bit of it is another, and nothing is changed', async () => {
    const whole = await readFile(files.file('whole'));
    for (let at = 0; at < 12; at++) {
      const changed = Buffer.from(whole);
      const place = Math.floor(((at + 0.5) / 12) * whole.length);
      changed[place] = (changed[place] ?? 0) ^ (1 << (at % 7));
      await writeFile(files.file(`bit-${at}`), changed);
      expect(await refusedText(`bit-${at}`)).toMatch(/cannot be used/);
    }
  }, 60_000);

  it('[B4] is refused where something was added, or where it is no backup at all', async () => {
    const whole = await readFile(files.file('whole'));
    await writeFile(files.file('more'), Buffer.concat([whole, Buffer.from('x')]));
    expect(await refusedText('more')).toMatch(/something stands after its end/);
    await writeFile(files.file('other'), 'PGDMP');
    expect(await refusedText('other')).toMatch(/cannot be used/);
    await writeFile(files.file('newer'), whole.toString('latin1').replace('"format":1', '"format":2'), 'latin1');
    expect(await refusedText('newer')).toMatch(/format 2 and this program reads 1/);
    expect(await refusedText('not-there')).toMatch(/cannot be read: ENOENT/);
  });

  it('[B4] a database with anything in it is left as it is', async () => {
    const before = await contentsOf(db);
    const error = await asOwner(db, (owner) => restoreBackup(owner, files.file('whole'), INTO)).catch(
      (thrown: unknown) => thrown,
    );
    expect(String(error)).toMatch(/The database is not empty: it has rows in \w+\. Nothing was changed/);
    expect(await contentsOf(db)).toEqual(before);
  });
});

describe('a new epoch', () => {
  it('[B6] is what every cursor of the time before is told, whatever feed it is of; a beginning is not hindered', async () => {
    const [firm] = firms as [TestFirm];
    const reader = { firm: firm.id, token: firm.ids.ann, role: 'coordinator', device: null } as const;
    const ask = (of: TestDatabase, feed: string, cursor: string | null) =>
      feedPage(of.pool, reader, { feed, cursor, limit: 3, client: null });
    const feeds = ['firm', `site:${firm.ids.site}`, `event:${firm.ids.event}`];
    const cursors = await Promise.all(
      feeds.map(async (feed) => (JSON.parse(await ask(db, feed, null)) as { cursor: string }).cursor),
    );
    await restored('whole', async (target) => {
      for (const [at, feed] of feeds.entries()) {
        await expect(ask(target, feed, cursors[at] ?? '')).rejects.toMatchObject({
          code: 'reset_required',
          members: { reason: 'other_epoch' },
        });
        const anew = JSON.parse(await ask(target, feed, null)) as { cursor: string };
        expect(await ask(target, feed, anew.cursor)).toContain('"rows":');
      }
    });
  });

  it('[B6] is noted with where each feed stood, and a history that is another before that is found', async () => {
    const [firm] = firms as [TestFirm];
    await restored('whole', async (target) => {
      const { rows } = await target.bypass.query(
        `select how, began_at, e.epoch = i.epoch as present, backup_made_at is not null as known from epoch e, installation i order by how`,
      );
      expect(rows).toMatchObject([
        { how: 'installed', present: false, known: false },
        { how: 'restored', present: true, known: true },
      ]);
      const { rows: old } = await db.bypass.query('select epoch, cursor_key from installation');
      const { rows: fresh } = await target.bypass.query('select epoch, cursor_key from installation');
      expect(fresh[0]?.epoch).not.toBe(old[0]?.epoch);
      expect(fresh[0]?.cursor_key).toEqual(old[0]?.cursor_key);
      const { rows: feeds } = await target.bypass.query('select distinct feed from ledger where firm = $1', [firm.id]);
      const { rows: anchors } = await target.bypass.query('select feed from epoch_anchor where firm = $1', [firm.id]);
      expect(anchors).toHaveLength(feeds.length);
      // a tail that was cut off: every row that is left follows from the one before it
      const owner = await target.owner();
      await owner.query('alter table ledger disable trigger ledger_append_only');
      await target.bypass.query(`delete from ledger where firm = $1 and feed = 'firm'`, [firm.id]);
      await target.bypass.query(`delete from head where firm = $1 and feed = 'firm'`, [firm.id]);
      const found = await recompute(target.pool, firm.id);
      expect(found.some(({ what, feed, kind }) => what === 'history' && feed === 'firm' && kind === 'epoch')).toBe(
        true,
      );
    });
  });
});
