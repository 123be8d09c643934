import { chmod, cp, lstat, mkdir, readdir, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import type { Account } from './account.ts';
import type { PlatformPackage } from './platform-package.ts';
import { isAlive } from './process-table.ts';
import { makeLinks } from './program-links.ts';
import { canEnter } from './reach.ts';

/** Where root may keep what can be made again (Filesystem Hierarchy Standard 3.0, section 5.5). */
const ROOT_CACHE = '/var/cache/wellround';

const exists = async (file: string): Promise<boolean> => (await lstat(file).catch(() => undefined)) !== undefined;

/** What is linked against, and never run. */
const needed = (source: string): boolean => !source.endsWith('.a') && path.basename(source) !== 'pkgconfig';

/** Programs are nobody's secret; a private umask at install time must not keep the lent account from reading them. */
async function openToAll(folder: string): Promise<void> {
  await chmod(folder, 0o755);
  for (const entry of await readdir(folder, { withFileTypes: true, recursive: true })) {
    const file = path.join(entry.parentPath, entry.name);
    if (entry.isDirectory()) await chmod(file, 0o755);
    if (entry.isFile()) await chmod(file, ((await lstat(file)).mode & 0o111) === 0 ? 0o644 : 0o755);
  }
}

/** The data folder where possible, so that nothing is left elsewhere; a place of root's where it is private. */
async function parentOfCopy(dataDir: string, account: Account | undefined): Promise<string> {
  if (await canEnter(dataDir, account)) return dataDir;
  await mkdir(ROOT_CACHE, { recursive: true });
  await chmod(ROOT_CACHE, 0o755);
  return ROOT_CACHE;
}

/** What cannot be removed is only in the way of disk space, not of the start. */
const remove = (folder: string): Promise<void> => rm(folder, { recursive: true, force: true }).catch(() => undefined);

async function removeAbandoned(parent: string, partial: RegExp): Promise<void> {
  for (const name of await readdir(parent)) {
    const maker = partial.exec(name)?.[1];
    if (maker === undefined || isAlive(Number(maker))) continue;
    await remove(path.join(parent, name));
  }
}

/** Copied beside its place and renamed when whole, so that a copy that was cut short is never taken for a good one. */
export async function copyOnce(found: PlatformPackage, dataDir: string, account: Account | undefined): Promise<string> {
  const parent = await parentOfCopy(dataDir, account);
  const place = path.join(parent, `postgres-programs-${found.version}`);
  if (await exists(place)) return place;
  await removeAbandoned(parent, /^postgres-programs-.*\.new-(\d+)$/);
  const partial = `${place}.new-${process.pid}`;
  try {
    await cp(found.native, partial, { recursive: true, verbatimSymlinks: true, filter: needed });
    // first: a package that was installed read-only is copied read-only
    await openToAll(partial);
    await makeLinks(partial);
    await rename(partial, place);
  } catch (error) {
    await remove(partial);
    if (!(await exists(place))) throw copyFailed(found, place, error);
  }
  return place;
}

function copyFailed(found: PlatformPackage, place: string, error: unknown): Error {
  return new Error(
    `The programs of the embedded PostgreSQL could not be copied to where they can be run (${(error as Error).message}). ` +
      `Given: ${found.native}, to ${place}. Make room or writable there, or set DATABASE_URL to a server of your own.`,
    { cause: error },
  );
}
