import { realpath } from 'node:fs/promises';
import type { StoreLog } from '../log.ts';
import { type Account, chooseAccount } from './account.ts';
import { openDataFolder } from './data-folder.ts';
import { findPlatformPackage } from './platform-package.ts';
import { type Programs, preparePrograms } from './programs.ts';
import { canEnter } from './reach.ts';

/** Everything that does not change while one data folder is open. */
export interface RunContext {
  dataDir: string;
  cluster: string;
  account: Account | undefined;
  programs: Programs;
  /** may the account walk down to the data folder by its name? */
  reachable: boolean;
  log: StoreLog;
}

export async function prepareRun(dataDir: string, log: StoreLog): Promise<RunContext> {
  if (process.platform === 'win32') {
    throw new Error(
      'The embedded PostgreSQL talks over a Unix socket, which is not available on Windows. ' +
        'Set DATABASE_URL to a PostgreSQL server, or run inside WSL or a container.',
    );
  }
  await openDataFolder(dataDir);
  const real = await realpath(dataDir);
  const cluster = await openDataFolder(real);
  const account = await chooseAccount([cluster, real]);
  const reachable = await canEnter(real, account);
  const programs = await preparePrograms(real, account, findPlatformPackage());
  return { dataDir: real, cluster, account, programs, reachable, log };
}

/**
 * Where a program running as the lent account finds its folder. Below a private home such as /root that account
 * cannot walk down by name; but Node enters the folder before it gives up root, and Linux has a name for "here".
 */
export function folderArgument(run: RunContext, folder: string): string {
  if (run.reachable) return folder;
  if (process.platform === 'linux') return '/proc/self/cwd';
  throw new Error(
    `The data folder cannot be reached by the account that must run PostgreSQL (user id ${run.account?.uid}), because a ` +
      `folder above it is private. Given: ${run.dataDir}. Name a folder outside private homes in DATA_DIR, or do not run as root.`,
  );
}

/** Nothing of ours leaks into the server: no PG* variables, no locale, no time zone. */
export function programEnvironment(run: RunContext): NodeJS.ProcessEnv {
  return { PATH: '/usr/bin:/bin', LC_ALL: 'C', TZ: 'UTC', LD_LIBRARY_PATH: run.programs.lib };
}
