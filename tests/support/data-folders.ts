import { existsSync } from 'node:fs';
import { chmod, mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { readPostmasterFile } from '../../src/store/embedded/postmaster-file.ts';
import { whoHas } from '../../src/store/embedded/process-table.ts';

/** Temporary data folders of one test file, and whatever servers were left running on them. */
export function dataFolders() {
  const made: string[] = [];
  return {
    async make(): Promise<string> {
      const parent = await mkdtemp(path.join(os.tmpdir(), 'wellround-store-'));
      await chmod(parent, 0o777);
      made.push(parent);
      return path.join(parent, 'data');
    },
    async removeAll(): Promise<void> {
      for (const parent of made) {
        await stopServerOn(path.join(parent, 'data'));
        await rm(parent, { recursive: true, force: true });
      }
    },
  };
}

export const clusterOf = (dataDir: string): string => path.join(dataDir, 'postgres');

/** The number of the server that runs on the folder, if one does. */
export async function serverOn(dataDir: string): Promise<number | undefined> {
  const cluster = clusterOf(dataDir);
  if (!existsSync(cluster)) return undefined;
  const file = await readPostmasterFile(cluster).catch(() => undefined);
  if (file === undefined || (await whoHas(file.pid, cluster)) !== 'server') return undefined;
  return file.pid;
}

export async function stopServerOn(dataDir: string): Promise<void> {
  const pid = await serverOn(dataDir);
  if (pid === undefined) return;
  process.kill(pid, 'SIGQUIT');
  await untilNoServer(pid, dataDir);
}

export async function untilNoServer(pid: number, dataDir: string): Promise<void> {
  while ((await whoHas(pid, clusterOf(dataDir))) === 'server') await sleep(20);
}

/** Settings for a server whose folder a test throws away. */
export const careless = { fsync: 'off', full_page_writes: 'off' } as const;

/** One question as a given role, on a connection of its own. */
export async function ask<T extends pg.QueryResultRow>(config: pg.ClientConfig, question: string): Promise<T[]> {
  const client = new pg.Client(config);
  await client.connect();
  const result = await client.query<T>(question).finally(() => client.end());
  return result.rows;
}
