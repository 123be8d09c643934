import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, expect, test } from 'vitest';
import { openDatabase } from '../../../src/store/connections.ts';
import { startEmbedded } from '../../../src/store/embedded/supervisor.ts';
import { endPool, makePool } from '../../../src/store/pool.ts';
import { ask, careless, dataFolders, serverOn, stopServerOn } from '../../support/data-folders.ts';
import { isRoot } from '../../support/ordinary-account.ts';

const folders = dataFolders();
afterAll(() => folders.removeAll());

const quiet = { info: () => undefined, warn: () => undefined, error: () => undefined };

test('kill -9 of the server while the pool is busy: it comes back by itself, and no acknowledged row is lost', async () => {
  const dataDir = await folders.make();
  const database = await openDatabase({ dataDir, log: quiet });
  const owner = await database.owner();
  await owner.query('create table acked (n int primary key); grant select, insert on acked to wellround_app');
  await owner.end();
  const acked: number[] = [];
  let failures = 0;
  let next = 0;
  let ending = false;
  const writer = async (): Promise<void> => {
    while (!ending) {
      const n = next++;
      await database.pool.query('insert into acked values ($1)', [n]).then(
        () => void acked.push(n),
        () => {
          failures += 1;
          return sleep(20);
        },
      );
    }
  };
  const writers = Array.from({ length: 6 }, writer);
  await sleep(300);
  const first = (await serverOn(dataDir)) ?? 0;
  const before = acked.length;
  process.kill(first, 'SIGKILL');
  while (failures === 0 || acked.length < before + 200) await sleep(20);
  ending = true;
  await Promise.all(writers);
  const second = await serverOn(dataDir);
  expect(second).not.toBe(first);
  const found = await database.pool.query<{ n: number }>('select n from acked');
  const there = new Set(found.rows.map((row) => row.n));
  expect(acked.filter((n) => !there.has(n))).toEqual([]);
  await database.close();
  expect(await serverOn(dataDir)).toBeUndefined();
});

/** A small disk of its own, where this process may make one. */
function smallDisk(folder: string, size: string): boolean {
  mkdirSync(folder, { recursive: true });
  return isRoot && spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${size}`, 'tmpfs', folder]).status === 0;
}

test('a full disk: nothing acknowledged is lost, and when there is room again it goes on unaided', async (context) => {
  const dataDir = await folders.make();
  if (!smallDisk(dataDir, '90m')) return context.skip('only root can make a small disk');
  const errors: string[] = [];
  const log = { ...quiet, error: (details: object) => void errors.push(JSON.stringify(details)) };
  try {
    const database = await openDatabase({ dataDir, log });
    const owner = await database.owner();
    await owner.query('create table acked (n int primary key, filling text); grant all on acked to wellround_app');
    await owner.end();
    const filling = '(select string_agg(md5(random()::text), $$ $$) from generate_series(1, 8000))';
    let acked = 0;
    const writeOne = (): Promise<unknown> => database.pool.query(`insert into acked values (${acked}, ${filling})`);
    while (
      await writeOne().then(
        () => true,
        () => false,
      )
    )
      acked += 1;
    expect(acked).toBeGreaterThan(10);
    while (errors.length < 2) await sleep(20);
    expect(errors.join()).toContain('No space left on device');
    expect(spawnSync('mount', ['-o', 'remount,size=300m', dataDir]).status).toBe(0);
    while (
      !(await writeOne().then(
        () => true,
        () => false,
      ))
    )
      await sleep(50);
    const found = await database.pool.query('select count(*) as count from acked');
    expect(found.rows).toEqual([{ count: acked + 1 }]);
    await database.close();
  } finally {
    await stopServerOn(dataDir);
    spawnSync('umount', [dataDir]);
  }
});

test('a connection that breaks between two statements fails its next one and nothing else', async () => {
  const dataDir = await folders.make();
  const database = await openDatabase({ dataDir, log: quiet });
  const client = await database.pool.connect();
  await client.query('begin');
  process.kill((await serverOn(dataDir)) ?? 0, 'SIGKILL');
  await new Promise((resolve) => client.once('end', resolve));
  await expect(client.query('select 1')).rejects.toThrow();
  client.release(true);
  while (
    !(await database.pool.query('select 1').then(
      () => true,
      () => false,
    ))
  )
    await sleep(20);
  await database.close();
});

test('closing does not wait for ever for a connection that nobody gave back', async () => {
  const server = await startEmbedded({ dataDir: await folders.make(), log: quiet, settings: careless });
  const warnings: object[] = [];
  const log = { ...quiet, warn: (details: object) => void warnings.push(details) };
  const pool = makePool(server.connection('app', 'postgres'), log);
  await pool.connect();
  await endPool(pool, log, 100);
  expect(warnings).toEqual([{ connections: 1, patienceMs: 100 }]);
  await server.stop();
});

test('when only the keeper’s own session is ended, the server is taken up again and is still nobody else’s', async () => {
  const dataDir = await folders.make();
  const server = await startEmbedded({ dataDir, log: quiet, settings: careless });
  const pid = server.pid();
  const admin = server.connection('superuser', 'postgres');
  const keepers = `from pg_stat_activity where application_name = 'wellround process ${process.pid}'`;
  expect(await ask(admin, `select pg_terminate_backend(pid) ${keepers}`)).toHaveLength(1);
  while ((await ask(admin, `select pid ${keepers}`)).length === 0) await sleep(20);
  expect(server.pid()).toBe(pid);
  await expect(startEmbedded({ dataDir, log: quiet })).rejects.toThrow(/in use/);
  await server.stop();
});
