import { chmodSync, mkdirSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { chown } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { startEmbedded } from '../../../src/store/embedded/supervisor.ts';
import { ask, careless, clusterOf, dataFolders, serverOn } from '../../support/data-folders.ts';
import { type SpawnOptions, spawnEmbedding } from '../../support/embedding-process.ts';
import { isRoot, ordinaryAccount } from '../../support/ordinary-account.ts';
import { testLog as log } from '../../support/test-log.ts';

const folders = dataFolders();
afterAll(() => folders.removeAll());

/** Whom "an ordinary user" means here: an account that root can lend, or whoever runs the tests. */
const ordinary: SpawnOptions | undefined = isRoot ? ordinaryAccount() : {};
/** Who runs a process is read from /proc. */
const isLinux = process.platform === 'linux';
const userOf = (pid: number): number => statSync(`/proc/${pid}`).uid;
const NOBODY = Number(/^nobody:[^:]*:(\d+)/m.exec(readFileSync('/etc/passwd', 'utf8'))?.[1]);

describe.runIf(isRoot && isLinux)('started as root', () => {
  test('the server runs as the existing account nobody, and no account is made', async () => {
    const accounts = readFileSync('/etc/passwd', 'utf8');
    const dataDir = await folders.make();
    const server = await startEmbedded({ dataDir, log, settings: careless });
    expect(userOf(server.pid())).toBe(NOBODY);
    expect(statSync(clusterOf(dataDir)).uid).toBe(NOBODY);
    expect(readFileSync('/etc/passwd', 'utf8')).toBe(accounts);
    await server.stop();
  });

  test('a data folder below a private home works, although nobody may not walk down to it', async () => {
    const dataDir = await folders.make();
    chmodSync(path.dirname(dataDir), 0o700);
    const server = await startEmbedded({ dataDir, log, settings: careless });
    expect(userOf(server.pid())).toBe(NOBODY);
    await server.stop();
    const again = await startEmbedded({ dataDir, log, settings: careless });
    expect(await ask(again.connection('app', 'postgres'), 'select 1 as one')).toEqual([{ one: 1 }]);
    await again.stop();
  });

  test('an orphan below a private home is adopted too', async () => {
    const dataDir = await folders.make();
    chmodSync(path.dirname(dataDir), 0o700);
    const child = await spawnEmbedding(dataDir);
    await child.kill();
    const orphan = await serverOn(dataDir);
    const server = await startEmbedded({ dataDir, log });
    expect(server.adopted).toBe(true);
    expect(server.pid()).toBe(orphan);
    await server.stop();
  });

  test('a folder that root restored is given to nobody', async () => {
    const dataDir = await folders.make();
    await (await startEmbedded({ dataDir, log, settings: careless })).stop();
    const cluster = clusterOf(dataDir);
    for (const name of ['', ...readdirSync(cluster, { recursive: true }).map(String)]) {
      await chown(path.join(cluster, name), 0, 0);
    }
    const server = await startEmbedded({ dataDir, log, settings: careless });
    expect(userOf(server.pid())).toBe(NOBODY);
    await server.stop();
  });

  test.runIf(ordinary)('a folder of an ordinary user stays that user’s', async () => {
    const dataDir = await folders.make();
    await (await spawnEmbedding(dataDir, ordinary)).stop();
    const server = await startEmbedded({ dataDir, log, settings: careless });
    expect(userOf(server.pid())).toBe(ordinary?.uid);
    await server.stop();
    const back = await spawnEmbedding(dataDir, ordinary);
    await back.untilAcked(back.acked() + 1);
    await back.stop();
  });

  test.runIf(ordinary)('a folder of root’s is refused to an ordinary user in plain words', async () => {
    const dataDir = await folders.make();
    await (await startEmbedded({ dataDir, log, settings: careless })).stop();
    await expect(spawnEmbedding(dataDir, ordinary)).rejects.toThrow(
      new RegExp(`data folder cannot be used \\(EACCES at .*as user id ${ordinary?.uid}.*DATA_DIR`),
    );
  });
});

describe.runIf(ordinary && isLinux)('started as an ordinary user', () => {
  test('the server runs as that user, and its orphan is adopted by that user', async () => {
    const dataDir = await folders.make();
    const child = await spawnEmbedding(dataDir, ordinary);
    await child.untilAcked(10);
    const pid = (await serverOn(dataDir)) ?? 0;
    expect(userOf(pid)).toBe(ordinary?.uid ?? process.getuid?.());
    await child.kill();
    const next = await spawnEmbedding(dataDir, ordinary);
    expect(await serverOn(dataDir)).toBe(pid);
    await next.untilAcked(child.acked() + 2);
    await next.stop();
  });

  test.each(['000', '555'])('a data folder with mode %s is named with the user and the remedy', async (mode) => {
    const dataDir = await folders.make();
    mkdirSync(dataDir);
    if (ordinary?.uid !== undefined && ordinary.gid !== undefined) await chown(dataDir, ordinary.uid, ordinary.gid);
    chmodSync(dataDir, Number.parseInt(mode, 8));
    await expect(spawnEmbedding(dataDir, ordinary)).rejects.toThrow(
      /data folder cannot be used \(EACCES at .*as user id \d+.*readable and writable.*DATA_DIR/,
    );
  });
});
