import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync, writeFileSync } from 'node:fs';
import { chown, rm, stat } from 'node:fs/promises';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, describe, expect, test } from 'vitest';
import { type Database, openDatabase } from '../../../src/store/connections.ts';
import { readPostmasterFile } from '../../../src/store/embedded/postmaster-file.ts';
import { startEmbedded } from '../../../src/store/embedded/supervisor.ts';
import { careless, clusterOf, dataFolders, serverOn, untilNoServer } from '../../support/data-folders.ts';
import { spawnEmbedding } from '../../support/embedding-process.ts';
import { isRoot } from '../../support/ordinary-account.ts';
import { testLog as log } from '../../support/test-log.ts';

const folders = dataFolders();
afterAll(() => folders.removeAll());

const present = async (database: Database): Promise<number[]> =>
  (await database.pool.query<{ n: number }>('select n from acked order by n')).rows.map((row) => row.n);

const oneTo = (count: number): number[] => Array.from({ length: count }, (_, index) => index + 1);

describe('after kill -9 of the process that embeds', () => {
  test('the next start adopts the server that lives on, and every acknowledged row is there', async () => {
    const dataDir = await folders.make();
    const child = await spawnEmbedding(dataDir);
    await child.untilAcked(50);
    await child.kill();
    const orphan = await serverOn(dataDir);
    expect(orphan).toBeDefined();
    const database = await openDatabase({ dataDir, log });
    expect(await serverOn(dataDir)).toBe(orphan);
    const rows = await present(database);
    expect(rows.slice(0, child.acked())).toEqual(oneTo(child.acked()));
    // the statement in flight may have been kept or not; nothing else
    expect(rows.length - child.acked()).toBeLessThanOrEqual(1);
    await database.close();
    expect(await serverOn(dataDir)).toBeUndefined();
  });

  test('and of the server with it: the next start recovers every acknowledged row', async () => {
    const dataDir = await folders.make();
    const child = await spawnEmbedding(dataDir);
    await child.untilAcked(50);
    const pid = await serverOn(dataDir);
    if (pid === undefined) throw new Error('no server');
    process.kill(pid, 'SIGKILL');
    await child.kill();
    const former = (await readPostmasterFile(clusterOf(dataDir)))?.socketFolder ?? '';
    const database = await openDatabase({ dataDir, log });
    expect((await present(database)).slice(0, child.acked())).toEqual(oneTo(child.acked()));
    await database.close();
    await expect(stat(former)).rejects.toThrow(/ENOENT/);
  });

  test('a server that does not answer yet is waited for', async () => {
    const dataDir = await folders.make();
    const child = await spawnEmbedding(dataDir);
    await child.kill();
    const orphan = (await serverOn(dataDir)) ?? 0;
    process.kill(orphan, 'SIGSTOP');
    const opening = openDatabase({ dataDir, log });
    await sleep(500);
    process.kill(orphan, 'SIGCONT');
    const database = await opening;
    expect(await serverOn(dataDir)).toBe(orphan);
    await database.close();
  });

  test('a server whose socket was removed is named, with the way to stop it', async () => {
    const dataDir = await folders.make();
    const child = await spawnEmbedding(dataDir);
    await child.kill();
    const file = await readPostmasterFile(clusterOf(dataDir));
    await rm(file?.socketFolder ?? '', { recursive: true });
    await expect(startEmbedded({ dataDir, log })).rejects.toThrow(
      new RegExp(`process ${file?.pid}\\) runs on the data folder but does not answer.*kill -INT ${file?.pid}`),
    );
  });

  test('a number that another program has meanwhile is no server', async () => {
    const dataDir = await folders.make();
    const server = await startEmbedded({ dataDir, log, settings: careless });
    const pid = server.pid();
    await server.stop();
    const { uid, gid } = await stat(clusterOf(dataDir));
    const sleeper = spawn('sleep', ['60'], isRoot ? { uid, gid } : {});
    await once(sleeper, 'spawn');
    // what a power cut leaves, once the machine has given the number to somebody else
    const left = `${sleeper.pid}\n${clusterOf(dataDir)}\n1\n5432\n/tmp/wellround-gone\n\n  1 1\nready\n`;
    writeFileSync(path.join(clusterOf(dataDir), 'postmaster.pid'), left, { mode: 0o600 });
    await chown(path.join(clusterOf(dataDir), 'postmaster.pid'), uid, gid);
    const again = await startEmbedded({ dataDir, log, settings: careless });
    expect(again.adopted).toBe(false);
    expect(again.pid()).not.toBe(pid);
    await again.stop();
    expect(sleeper.exitCode).toBeNull();
    sleeper.kill();
  });
});

describe('two processes on one data folder', () => {
  test('the second is told who has it, and the first goes on', async () => {
    const dataDir = await folders.make();
    const child = await spawnEmbedding(dataDir);
    await expect(openDatabase({ dataDir, log })).rejects.toThrow(
      new RegExp(`data folder is in use: process ${child.pid} runs its database.*DATA_DIR`),
    );
    await child.untilAcked(child.acked() + 5);
    await child.stop();
    expect(await serverOn(dataDir)).toBeUndefined();
  });

  test('two that start at once on a new folder: one gets it, the other is told so', async () => {
    const dataDir = await folders.make();
    const settled = await Promise.allSettled([spawnEmbedding(dataDir), spawnEmbedding(dataDir)]);
    const winners = settled.flatMap((one) => (one.status === 'fulfilled' ? [one.value] : []));
    const losers = settled.flatMap((one) => (one.status === 'rejected' ? [String(one.reason)] : []));
    expect(winners).toHaveLength(1);
    expect(losers).toEqual([expect.stringContaining(`in use: process ${winners[0]?.pid}`)]);
    await winners[0]?.untilAcked(5);
    await winners[0]?.stop();
  });
});

/** Starts the very server that was killed once more, as somebody else would who is gone before it answers. */
async function startElsewhere(dataDir: string, killed: number, argv: string[]): Promise<number> {
  const cluster = clusterOf(dataDir);
  const { uid, gid } = await stat(cluster);
  const starter = spawn(String(argv[0]), argv.slice(1), {
    ...(isRoot ? { uid, gid } : {}),
    cwd: cluster,
    // where nobody collects the killed server's exit status its number stays taken; this is how pg_ctl lets go of one
    env: { PG_GRANDPARENT_PID: String(killed) },
    detached: true,
    stdio: 'ignore',
  });
  while ((await readPostmasterFile(cluster))?.pid !== starter.pid) await sleep(1);
  return starter.pid ?? 0;
}

test.runIf(process.platform === 'linux')(
  'a server that is starting is waited for, and adopted when its starter is gone',
  async () => {
    const dataDir = await folders.make();
    const child = await spawnEmbedding(dataDir);
    await child.untilAcked(20);
    const killed = (await serverOn(dataDir)) ?? 0;
    const argv = readFileSync(`/proc/${killed}/cmdline`, 'utf8').split('\0').slice(0, -1);
    await child.kill();
    process.kill(killed, 'SIGKILL');
    await untilNoServer(killed, dataDir);
    // the last sessions of a killed server need a moment to notice
    await sleep(300);
    const pid = await startElsewhere(dataDir, killed, argv);
    const database = await openDatabase({ dataDir, log });
    expect(await serverOn(dataDir)).toBe(pid);
    expect((await present(database)).slice(0, child.acked())).toEqual(oneTo(child.acked()));
    await database.close();
  },
);
