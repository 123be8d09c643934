import { chown, lstat, mkdtemp, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import type { Account } from './account.ts';
import { canEnter } from './reach.ts';
import { SOCKET_NUMBER } from './settings.ts';

/** sun_path holds 108 bytes on Linux and 104 on macOS, with a closing zero (unix(7), macOS sys/un.h). */
const LONGEST_PATH_BYTES = 103;

const socketName = (folder: string): string => path.join(folder, `.s.PGSQL.${SOCKET_NUMBER}`);

async function isOurs(folder: string, account: Account | undefined): Promise<boolean> {
  const stats = await lstat(folder).catch(() => undefined);
  if (stats === undefined || !path.basename(folder).startsWith('wellround-')) return false;
  return stats.isDirectory() && stats.uid === (account?.uid ?? process.getuid?.()) && (stats.mode & 0o077) === 0;
}

async function fits(parent: string, account: Account | undefined): Promise<boolean> {
  const bytes = Buffer.byteLength(socketName(path.join(parent, 'wellround-XXXXXX')));
  return bytes <= LONGEST_PATH_BYTES && (await canEnter(parent, account).catch(() => false));
}

/**
 * A private folder of its own for the socket: a data folder may lie deeper than a socket's name can say, and a
 * fresh random name can neither be taken by another server nor be prepared by another user.
 */
export async function makeSocketFolder(account: Account | undefined): Promise<string> {
  const reasons: string[] = [];
  for (const parent of [os.tmpdir(), '/tmp', '/var/tmp']) {
    if (!(await fits(parent, account))) {
      reasons.push(`${parent}: too long a name, or not open to the account that runs PostgreSQL`);
      continue;
    }
    try {
      const folder = await mkdtemp(path.join(parent, 'wellround-'));
      if (account !== undefined) await chown(folder, account.uid, account.gid);
      return folder;
    } catch (error) {
      reasons.push(`${parent}: ${(error as Error).message}`);
    }
  }
  throw new Error(
    `No folder was found for the database's socket. Tried: ${reasons.join('; ')}. ` +
      'Name a short, writable folder in TMPDIR, or set DATABASE_URL.',
  );
}

/** The folder of a server that was killed; never one that is not plainly ours. */
export async function removeSocketFolder(folder: string, account: Account | undefined): Promise<void> {
  if (await isOurs(folder, account)) await rm(folder, { recursive: true, force: true });
}
