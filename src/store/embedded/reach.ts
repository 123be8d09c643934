import type { Stats } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import path from 'node:path';
import type { Account } from './account.ts';

const READ = 4;
const SEARCH = 1;

function permits(stats: Stats, account: Account, bits: number): boolean {
  const shift = stats.uid === account.uid ? 6 : stats.gid === account.gid ? 3 : 0;
  return ((stats.mode >> shift) & bits) === bits;
}

/** Whether the account may walk down to this folder. */
export async function canEnter(folder: string, account: Account | undefined): Promise<boolean> {
  if (account === undefined) return true;
  if (!permits(await stat(folder), account, SEARCH)) return false;
  const parent = path.dirname(folder);
  return parent === folder || canEnter(parent, account);
}

/** Whether the account may read everything below this folder (and run what is marked as a program). */
export async function canReadTree(folder: string, account: Account | undefined): Promise<boolean> {
  if (account === undefined) return true;
  if (!(await canEnter(folder, account))) return false;
  for (const entry of await readdir(folder, { withFileTypes: true, recursive: true })) {
    const stats = await stat(path.join(entry.parentPath, entry.name)).catch(() => undefined);
    if (stats !== undefined && !permits(stats, account, entry.isDirectory() ? READ | SEARCH : READ)) return false;
  }
  return true;
}
