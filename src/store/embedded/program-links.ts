import { lstat, readFile, symlink } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';

/** A package cannot carry symbolic links: this one lists them, and an install script makes them, unless scripts are off. */
const LINK_LIST = 'pg-symlinks.json';
const linkList = z.array(z.object({ source: z.string(), target: z.string() }));

interface Link {
  at: string;
  to: string;
}

async function missingLinks(native: string): Promise<Link[]> {
  const list = await readFile(path.join(native, LINK_LIST), 'utf8').catch(() => '[]');
  const missing: Link[] = [];
  for (const { source, target } of linkList.parse(JSON.parse(list))) {
    // the list counts from the package's folder, whatever "native" is called here
    const at = path.join(native, path.relative('native', target));
    const there = await lstat(at).catch(() => undefined);
    if (there === undefined) missing.push({ at, to: path.relative(path.dirname(target), source) });
  }
  return missing;
}

export async function allLinked(native: string): Promise<boolean> {
  return (await missingLinks(native)).length === 0;
}

export async function makeLinks(native: string): Promise<void> {
  for (const link of await missingLinks(native)) {
    await symlink(link.to, link.at).catch((error: NodeJS.ErrnoException) => {
      // another process makes the same links
      if (error.code !== 'EEXIST') throw error;
    });
  }
}
