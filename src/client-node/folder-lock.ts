import { randomUUID } from 'node:crypto';
import { link, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { StoreError } from '../client/store-error.ts';
import { isAlive, type ProcessName, thisProcess } from './process-life.ts';

export interface FolderLock {
  release(): Promise<void>;
}

/** Which number a lock file has; null for any other file. */
function numberOf(name: string): number | null {
  const digits = /^lock-(\d+)$/.exec(name)?.[1];
  return digits === undefined ? null : Number(digits);
}

async function numbersIn(folder: string): Promise<number[]> {
  return (await readdir(folder)).flatMap((name) => numberOf(name) ?? []).sort((a, b) => a - b);
}

/** Null when it was given back, when its process ended, or when somebody who came later has removed it. */
async function holderOf(file: string): Promise<ProcessName | null> {
  const text = await readFile(file, 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return 'null';
    throw error;
  });
  try {
    const holder = JSON.parse(text) as ProcessName | null;
    return holder !== null && isAlive(holder) ? holder : null;
  } catch {
    throw new StoreError('store_in_use', `${file} cannot be read: if no other process uses the folder, delete it`);
  }
}

function inUse(folder: string, file: string, { pid, host }: ProcessName): StoreError {
  const who = `process ${pid} on ${host}`;
  const what = `end it first; if it is long gone, delete ${file}`;
  return new StoreError('store_in_use', `${folder} is open in ${who}, and only one process may write there: ${what}`);
}

/** Written whole under another name first, so that nobody ever reads half of it. */
async function place(folder: string, file: string, how: 'new' | 'over', text: string): Promise<boolean> {
  const draft = path.join(folder, `draft-${randomUUID()}`);
  await writeFile(draft, text, { mode: 0o600 });
  try {
    await (how === 'new' ? link(draft, file) : rename(draft, file));
    return true;
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EEXIST') return false;
    throw error;
  } finally {
    await rm(draft, { force: true });
  }
}

async function attempt(folder: string): Promise<FolderLock | null> {
  const last = (await numbersIn(folder)).at(-1) ?? 0;
  const before = path.join(folder, `lock-${last}`);
  const holder = last === 0 ? null : await holderOf(before);
  if (holder !== null) throw inUse(folder, before, holder);
  const mine = path.join(folder, `lock-${last + 1}`);
  if (!(await place(folder, mine, 'new', JSON.stringify(thisProcess())))) return null;
  const numbers = await numbersIn(folder);
  if (numbers.some((number) => number > last + 1)) {
    await rm(mine, { force: true });
    return null;
  }
  for (const number of numbers.filter((one) => one <= last))
    await rm(path.join(folder, `lock-${number}`), { force: true });
  return { release: async () => void (await place(folder, mine, 'over', 'null')) };
}

/**
 * One process at a time has a folder. The lock of a process that was killed is taken over by making the lock file with
 * the next number, which only one can do; the highest number counts. A lock that is given back stays as an empty one,
 * so that numbers only grow and nobody who looked long ago takes what has changed hands since.
 */
export async function lockFolder(folder: string): Promise<FolderLock> {
  for (let tries = 0; tries < 20; tries++) {
    const lock = await attempt(folder);
    if (lock !== null) return lock;
  }
  throw new StoreError('store_in_use', `${folder} is being opened by several processes at once: try again`);
}
