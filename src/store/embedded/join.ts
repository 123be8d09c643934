import { realpath } from 'node:fs/promises';
import type pg from 'pg';
import { clusterFolder } from './data-folder.ts';
import { readPostmasterFile } from './postmaster-file.ts';
import { whoHas } from './process-table.ts';
import { SOCKET_NUMBER } from './settings.ts';

/**
 * How to reach, as the owner of the tables, the server that another process runs on a data folder; undefined where none
 * runs. Whoever joins looks after nothing: the server ends when its keeper ends it, also in the middle of a question.
 */
export async function runningServer(dataDir: string, database: string): Promise<pg.ClientConfig | undefined> {
  const cluster = clusterFolder(await realpath(dataDir).catch(() => dataDir));
  const file = await readPostmasterFile(cluster);
  if (file === undefined || file.status !== 'ready' || file.socketFolder === '') return undefined;
  if ((await whoHas(file.pid, cluster)) !== 'server') return undefined;
  return { host: file.socketFolder, port: SOCKET_NUMBER, user: 'wellround_owner', database, ssl: false };
}
