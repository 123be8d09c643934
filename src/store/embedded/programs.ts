import path from 'node:path';
import type { Account } from './account.ts';
import type { PlatformPackage } from './platform-package.ts';
import { copyOnce } from './program-copy.ts';
import { allLinked, makeLinks } from './program-links.ts';
import { canReadTree } from './reach.ts';

/** PostgreSQL's programs, ready to be run by the account that will run them. */
export interface Programs {
  initdb: string;
  postgres: string;
  lib: string;
  /** for example 18 */
  major: string;
}

async function usableInPlace(native: string, account: Account | undefined): Promise<boolean> {
  if (!(await canReadTree(native, account))) return false;
  // not ours to write: then a copy will do
  await makeLinks(native).catch(() => undefined);
  return allLinked(native);
}

export async function preparePrograms(
  dataDir: string,
  account: Account | undefined,
  found: PlatformPackage,
): Promise<Programs> {
  const native = (await usableInPlace(found.native, account)) ? found.native : await copyOnce(found, dataDir, account);
  const bin = path.join(native, 'bin');
  return {
    initdb: path.join(bin, 'initdb'),
    postgres: path.join(bin, 'postgres'),
    lib: path.join(native, 'lib'),
    major: found.version.split('.')[0] ?? '',
  };
}
