import { execFile } from 'node:child_process';
import { copyFile, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { promisify } from 'node:util';
import type { Cleanup } from '../cleanup.ts';
import locked from './packages/package.json' with { type: 'json' };

const FROM = path.join(import.meta.dirname, 'packages');
const FOLDER = path.join(import.meta.dirname, '../../../node_modules/.cache/wellround-peer');
/** Holds the lock file that was installed, and is written last: what was cut short is installed again. */
const DONE = path.join(FOLDER, 'installed.json');
const LOCK = 'package-lock.json';
const PATIENCE_MS = 300_000;

export const PEER_VERSION = locked.dependencies['pouchdb-server'];

export interface InstalledPeer {
  readonly folder: string;
  /** How long it took; null where it was there already. */
  readonly seconds: number | null;
}

/** What npm complains of, without the page that it writes around it. */
function reasonIn(error: unknown): string {
  const said = error instanceof Error && 'stderr' in error ? String(error.stderr) : '';
  const lines = said.split('\n').flatMap((line) => /^npm (?:error|ERR!) (.+)/.exec(line)?.[1] ?? []);
  return lines.slice(0, 3).join('; ') || String(error);
}

/** The scripts of the packages do not run; what they would build is shipped with them. */
async function npm(signal: AbortSignal): Promise<void> {
  const flags = ['--ignore-scripts', '--prefer-offline', '--no-audit', '--no-fund', '--fetch-retries=1'];
  const options = { cwd: FOLDER, timeout: PATIENCE_MS, signal };
  await promisify(execFile)('npm', ['ci', '--prefix', FOLDER, ...flags], options).catch((error: unknown) => {
    throw new Error(`npm ci failed: ${reasonIn(error)}`);
  });
}

/** Installs the peer beside the packages of the project, exactly as locked: 354 old packages, none of them ours. */
export async function installPeer(cleanup: Cleanup): Promise<InstalledPeer> {
  const lock = await readFile(path.join(FROM, LOCK), 'utf8');
  const there = await readFile(DONE, 'utf8').catch(() => null);
  if (there === lock) return { folder: FOLDER, seconds: null };
  const begun = performance.now();
  await mkdir(FOLDER, { recursive: true });
  await rm(DONE, { force: true });
  for (const name of ['package.json', LOCK]) await copyFile(path.join(FROM, name), path.join(FOLDER, name));
  const ended = new AbortController();
  cleanup.add(() => ended.abort());
  await npm(ended.signal);
  await writeFile(DONE, lock);
  return { folder: FOLDER, seconds: (performance.now() - begun) / 1_000 };
}
