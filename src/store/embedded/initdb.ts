import { spawn } from 'node:child_process';
import { mkdtemp, open, readdir, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { give } from './data-folder.ts';
import { isAlive } from './process-table.ts';
import { folderArgument, programEnvironment, type RunContext } from './run-context.ts';

/** The first account inside a new database server; only this process uses it. */
export const SUPERUSER = 'postgres';

const NEW_FOLDER = /^postgres\.new-(\d+)-/;

/** A creation that was killed leaves its own folder, named after the process that began it. */
async function removeAbandoned(dataDir: string): Promise<void> {
  for (const name of await readdir(dataDir)) {
    const maker = NEW_FOLDER.exec(name)?.[1];
    if (maker === undefined || isAlive(Number(maker))) continue;
    await rm(path.join(dataDir, name), { recursive: true, force: true });
  }
}

function initdbArguments(folder: string, sync: boolean): string[] {
  const fixed = ['--encoding=UTF8', '--locale=C', '--data-checksums', '--auth-local=trust', '--auth-host=reject'];
  return ['-D', folder, '-U', SUPERUSER, ...fixed, '--no-instructions', ...(sync ? [] : ['--no-sync'])];
}

async function runInitdb(run: RunContext, folder: string, sync: boolean): Promise<void> {
  const child = spawn(run.programs.initdb, initdbArguments(folderArgument(run, folder), sync), {
    ...run.account,
    cwd: folder,
    env: programEnvironment(run),
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk) => (said += String(chunk)));
  const end = await new Promise<string>((resolve) => {
    child.once('error', (error) => resolve(error.message));
    child.once('close', (code, signal) => resolve(code === 0 ? '' : `it ended with ${signal ?? `status ${code}`}`));
  });
  if (end === '') return;
  throw new Error(
    `A new database could not be made in ${run.dataDir}: ${end}. PostgreSQL said: ${said.trim() || 'nothing'}. ` +
      'Mend that and start again (a partly made folder is cleared away by itself), or set DATABASE_URL.',
  );
}

async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r');
  await handle.sync().finally(() => handle.close());
}

/** Made beside its place and renamed when whole: a kill at any moment leaves either no database or a good one. */
export async function createCluster(run: RunContext, sync: boolean): Promise<void> {
  await removeAbandoned(run.dataDir);
  const folder = await mkdtemp(path.join(run.dataDir, `postgres.new-${process.pid}-`));
  try {
    if (run.account !== undefined) await give(folder, run.account);
    await runInitdb(run, folder, sync);
    await rename(folder, run.cluster).catch((error: NodeJS.ErrnoException) => {
      // another process was quicker; its database is as good as ours
      if (error.code !== 'ENOTEMPTY' && error.code !== 'EEXIST') throw error;
    });
    await syncFolder(run.dataDir);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
