import { mkdir, readdir, readFile, rm, rmdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { makeFolder } from '../../src/store/embedded/make-folder.ts';
import { readPostmasterFile } from '../../src/store/embedded/postmaster-file.ts';
import { isAlive, whoHas } from '../../src/store/embedded/process-table.ts';
import { startEmbedded } from '../../src/store/embedded/supervisor.ts';
import type { StoreLog } from '../../src/store/log.ts';

const RUN = /^run-(\d{1,9})$/;
const MARKER = 'made-by-the-demo.json';
const marker = z.strictObject({ demo: z.literal('wellround'), process: z.int() });

/** What the embedded database and the West crew make there, besides the marker of the demo. */
const OURS =
  /^(west-crew|postgres|postgres\.log(\.1)?|postgres\.new-.+|postgres\.unfinished-\d+|postgres-programs-.+)$/;

export interface Fresh {
  readonly folder: string;
  /** Folders of earlier runs that were cleared away, and those that were left, with the reason. */
  readonly cleared: readonly string[];
  readonly left: readonly string[];
}

async function makerOf(folder: string): Promise<number | null> {
  try {
    const parsed = marker.safeParse(JSON.parse(await readFile(path.join(folder, MARKER), 'utf8')));
    return parsed.success ? parsed.data.process : null;
  } catch {
    return null;
  }
}

async function serverOn(folder: string): Promise<boolean> {
  const cluster = path.join(folder, 'postgres');
  const file = await readPostmasterFile(cluster);
  return file !== undefined && (await whoHas(file.pid, cluster)) === 'server';
}

/** A demo that was killed may have left its database server running: it is taken over and stopped. */
async function stopOrphan(folder: string, log: StoreLog): Promise<void> {
  if (await serverOn(folder)) await (await startEmbedded({ dataDir: folder, log })).stop();
}

/** Takes away what the demo made there, and the folder if nothing else is in it. */
async function clear(folder: string, log: StoreLog): Promise<string | null> {
  await stopOrphan(folder, log);
  for (const name of await readdir(folder)) {
    if (OURS.test(name)) await rm(path.join(folder, name), { recursive: true, force: true });
  }
  const rest = (await readdir(folder)).filter((name) => name !== MARKER);
  if (rest.length > 0) return `${folder}: holds ${rest.join(', ')}, which the demo did not make`;
  await rm(path.join(folder, MARKER));
  await rmdir(folder);
  return null;
}

async function clearEarlier(folder: string, log: StoreLog): Promise<string | null> {
  const maker = await makerOf(folder);
  if (maker === null) return `${folder}: has no mark of the demo`;
  if (isAlive(maker)) return `${folder}: a demo runs there (process ${maker})`;
  try {
    return await clear(folder, log);
  } catch (error) {
    return `${folder}: ${(error as Error).message}`;
  }
}

function explain(base: string, error: unknown): Error {
  const { code } = error as NodeJS.ErrnoException;
  return new Error(
    `The demo cannot make its folder (${code ?? String(error)}). Given: ${base}. Name a folder that you may write in DATA_DIR.`,
    { cause: error },
  );
}

/**
 * A new folder for this run below the one given. Earlier runs are cleared away if the demo made them and has ended;
 * nothing is deleted that it did not make, whatever folder was named.
 */
export async function freshFolder(base: string, log: StoreLog): Promise<Fresh> {
  try {
    await makeFolder(base);
    const runs = (await readdir(base)).filter((name) => RUN.test(name));
    const last = Math.max(0, ...runs.map((name) => Number(RUN.exec(name)?.[1])));
    const folder = path.join(base, `run-${last + 1}`);
    await mkdir(folder);
    await writeFile(path.join(folder, MARKER), JSON.stringify({ demo: 'wellround', process: process.pid }));
    const said = await Promise.all(runs.map((name) => clearEarlier(path.join(base, name), log)));
    const cleared = runs.filter((_, index) => said[index] === null).map((name) => path.join(base, name));
    return { folder, cleared, left: said.filter((line) => line !== null) };
  } catch (error) {
    throw explain(base, error);
  }
}
