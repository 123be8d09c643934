import { cp, lstat, mkdir, readFile, rename, rm, symlink } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import type { Account } from './account.ts';
import { findPlatformPackage } from './platform-package.ts';
import { canEnter, canReadTree } from './reach.ts';

/** PostgreSQL's programs, ready to be run by the account that will run them. */
export interface Programs {
  initdb: string;
  postgres: string;
  lib: string;
  /** for example 18 */
  major: string;
}

const linkList = z.array(z.object({ source: z.string(), target: z.string() }));

interface Link {
  at: string;
  to: string;
}

/** The package cannot carry symbolic links: it lists them, and an install script makes them - unless scripts are off. */
async function missingLinks(native: string): Promise<Link[]> {
  const list = await readFile(path.join(native, 'pg-symlinks.json'), 'utf8').catch(() => '[]');
  const missing: Link[] = [];
  for (const { source, target } of linkList.parse(JSON.parse(list))) {
    const at = path.join(native, '..', target);
    const there = await lstat(at).catch(() => undefined);
    if (there === undefined) missing.push({ at, to: path.relative(path.dirname(target), source) });
  }
  return missing;
}

async function makeLinks(native: string): Promise<void> {
  for (const link of await missingLinks(native)) {
    await symlink(link.to, link.at).catch((error: NodeJS.ErrnoException) => {
      if (error.code !== 'EEXIST') throw error;
    });
  }
}

const needed = (source: string) => !source.endsWith('.a') && !source.endsWith('pkgconfig');

/** Copies beside the final place and renames, so that a copy that was cut short is never taken for a whole one. */
async function copyOnce(native: string, place: string): Promise<string> {
  const wanted = path.join(place, 'native');
  if ((await lstat(wanted).catch(() => undefined)) !== undefined) return wanted;
  const partial = `${place}.${process.pid}`;
  await mkdir(partial, { recursive: true, mode: 0o755 });
  await cp(native, path.join(partial, 'native'), { recursive: true, verbatimSymlinks: true, filter: needed });
  await makeLinks(path.join(partial, 'native'));
  await rename(partial, place).catch(() => rm(partial, { recursive: true, force: true }));
  return wanted;
}

async function usable(native: string, account: Account | undefined): Promise<boolean> {
  if (!(await canReadTree(native, account))) return false;
  await makeLinks(native).catch(() => undefined);
  return (await missingLinks(native)).length === 0;
}

/** The first of the places that the account can reach; the data folder first, so that nothing is left elsewhere. */
async function placeForCopy(dataDir: string, account: Account | undefined): Promise<string> {
  if (await canEnter(dataDir, account)) return dataDir;
  await mkdir('/var/cache/wellround', { recursive: true, mode: 0o755 });
  return '/var/cache/wellround';
}

export async function preparePrograms(dataDir: string, account: Account | undefined): Promise<Programs> {
  const found = findPlatformPackage();
  let native = found.native;
  if (!(await usable(native, account))) {
    const place = path.join(await placeForCopy(dataDir, account), `postgres-programs-${found.version}`);
    native = await copyOnce(found.native, place);
  }
  const bin = path.join(native, 'bin');
  return {
    initdb: path.join(bin, 'initdb'),
    postgres: path.join(bin, 'postgres'),
    lib: path.join(native, 'lib'),
    major: found.version.split('.')[0] ?? '',
  };
}
