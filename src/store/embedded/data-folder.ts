import { existsSync } from 'node:fs';
import { access, chmod, chown, constants, lchown, readdir, readFile, rename, stat } from 'node:fs/promises';
import path from 'node:path';
import type { StoreLog } from '../log.ts';
import { makeFolder } from './make-folder.ts';

/** The database itself lives in its own folder of the data folder, beside programs, log and whatever else is kept. */
export const clusterFolder = (dataDir: string): string => path.join(dataDir, 'postgres');

function explain(dataDir: string, error: unknown): Error {
  const { code, path: where } = error as NodeJS.ErrnoException;
  const who = `user id ${process.getuid?.() ?? 'unknown'}`;
  return new Error(
    `The data folder cannot be used (${code ?? String(error)}${where ? ` at ${where}` : ''}). Given: ${dataDir}, as ${who}. ` +
      'Make it readable and writable for that user, or name another folder in DATA_DIR.',
    { cause: error },
  );
}

export async function openDataFolder(dataDir: string): Promise<string> {
  try {
    await makeFolder(dataDir);
    await access(dataDir, constants.R_OK | constants.W_OK | constants.X_OK);
    const cluster = clusterFolder(dataDir);
    if (existsSync(cluster)) await access(cluster, constants.R_OK | constants.W_OK | constants.X_OK);
    return cluster;
  } catch (error) {
    throw explain(dataDir, error);
  }
}

export type ClusterState = { kind: 'absent' } | { kind: 'unfinished' } | { kind: 'ready'; major: string };

/** initdb writes the control file last but one, and a server that ever ran left its options behind. */
export async function inspectCluster(cluster: string): Promise<ClusterState> {
  const names: string[] = await readdir(cluster).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [] as string[];
    throw explain(path.dirname(cluster), error);
  });
  if (names.length === 0) return { kind: 'absent' };
  const whole = names.includes('PG_VERSION') && existsSync(path.join(cluster, 'global', 'pg_control'));
  if (whole) return { kind: 'ready', major: (await readFile(path.join(cluster, 'PG_VERSION'), 'utf8')).trim() };
  if (!names.includes('postmaster.opts')) return { kind: 'unfinished' };
  throw new Error(
    `The database in ${cluster} has been in use, and now its PG_VERSION or global/pg_control is missing: it is damaged. ` +
      'Nothing was changed. Restore a backup into an empty folder and name that folder in DATA_DIR.',
  );
}

/** Whether a database lives in a data folder; nothing is made, not the folder either. */
export async function holdsDatabase(dataDir: string): Promise<boolean> {
  return (await inspectCluster(clusterFolder(dataDir))).kind === 'ready';
}

export function assertMajor(cluster: string, found: string, programs: string): void {
  if (found === programs) return;
  throw new Error(
    `The database in ${cluster} was made by PostgreSQL ${found}, and this installation brings PostgreSQL ${programs}, ` +
      `which cannot read it. Nothing was changed. Start once with the release that brought PostgreSQL ${found} and take a ` +
      'backup, then restore it into an empty data folder; or name another folder in DATA_DIR.',
  );
}

/** Never deleted: what looks unfinished to us is still somebody's folder. */
export async function setAside(cluster: string, log: StoreLog): Promise<void> {
  for (let n = 1; ; n += 1) {
    const aside = `${cluster}.unfinished-${n}`;
    if (existsSync(aside)) continue;
    await rename(cluster, aside);
    log.warn({ from: cluster, to: aside }, 'a database folder whose creation never finished was moved aside');
    return;
  }
}

/**
 * Gives a folder that root made, or restored, to the account that will run the server. The folder itself comes last:
 * while it still belongs to somebody else, the work is known to be unfinished.
 */
export async function give(folder: string, account: { uid: number; gid: number }): Promise<void> {
  if ((await stat(folder)).uid === account.uid) return;
  for (const entry of await readdir(folder, { withFileTypes: true, recursive: true })) {
    await lchown(path.join(entry.parentPath, entry.name), account.uid, account.gid);
  }
  await chmod(folder, 0o700);
  await chown(folder, account.uid, account.gid);
}
