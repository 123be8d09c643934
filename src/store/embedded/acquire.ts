import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';
import { type Guarding, tryToGuard } from './guard.ts';
import { type Launched, launchServer } from './launch.ts';
import { type PostmasterFile, readPostmasterFile } from './postmaster-file.ts';
import { type Occupant, whoHas } from './process-table.ts';
import type { RunContext } from './run-context.ts';
import { reuseOrMakeSocketFolder } from './socket-folder.ts';

/** A server that answers and that this process keeps. */
export interface Acquired {
  pid: number;
  socketFolder: string;
  adopted: boolean;
  guard: pg.Client;
}

export interface AcquireOptions {
  settings: Readonly<Record<string, string>>;
  /** where the pool expects the socket, once it has been told */
  socketFolder: string | undefined;
  signal: AbortSignal;
}

const PAUSE_MS = 25;
/** Recovery after a crash replays at most max_wal_size (1 GB) of log: minutes on a slow disk, never an hour. */
const PATIENCE_MS = 10 * 60_000;
/** A server that calls itself ready and does not answer for this long has lost its socket. */
const SOCKET_PATIENCE_MS = 10_000;
/** The lock of a keeper that was killed goes when the server notices its closed connection. */
const KEEPER_PATIENCE_MS = 2_000;

function keptByAnother(run: RunContext, keeper: string): Error {
  return new Error(
    `The data folder is in use: ${keeper} runs its database. Given: ${run.dataDir}. ` +
      'Stop that process first, or name another folder in DATA_DIR.',
  );
}

function lostSocket(run: RunContext, file: PostmasterFile, reason: string): Error {
  return new Error(
    `PostgreSQL (process ${file.pid}) runs on the data folder but does not answer at ${file.socketFolder || 'its socket'} ` +
      `(${reason}). Given: ${run.dataDir}. Stop it with "kill -INT ${file.pid}" and start again; nothing is lost by that.`,
  );
}

/** Waits for the server that is already there; undefined when it went away meanwhile. */
async function adopt(run: RunContext, first: PostmasterFile, signal: AbortSignal): Promise<Acquired | undefined> {
  let keptMs = 0;
  let silentMs = 0;
  for (let waitedMs = 0; waitedMs < PATIENCE_MS; waitedMs += PAUSE_MS) {
    const file = await readPostmasterFile(run.cluster);
    if (file?.pid !== first.pid || (await whoHas(file.pid, run.cluster)) !== 'server') return undefined;
    const answer: Guarding =
      file.socketFolder === ''
        ? { kind: 'not answering', reason: 'no socket yet' }
        : await tryToGuard(file.socketFolder);
    if (answer.kind === 'guarded') {
      return { pid: file.pid, socketFolder: file.socketFolder, adopted: true, guard: answer.client };
    }
    if (answer.kind === 'kept by another') keptMs += PAUSE_MS;
    if (keptMs > KEEPER_PATIENCE_MS && answer.kind === 'kept by another') throw keptByAnother(run, answer.keeper);
    silentMs = answer.kind === 'not answering' && file.status === 'ready' ? silentMs + PAUSE_MS : 0;
    if (silentMs > SOCKET_PATIENCE_MS && answer.kind === 'not answering') throw lostSocket(run, file, answer.reason);
    if (waitedMs % 5_000 === 0 && waitedMs > 0)
      run.log.info({ pid: file.pid, waitedMs }, 'waiting for the database to be ready');
    await sleep(PAUSE_MS, undefined, { signal });
  }
  throw lostSocket(run, first, `waited ${PATIENCE_MS / 60_000} minutes`);
}

function launchFailed(run: RunContext, how: string, said: string): Error {
  return new Error(
    `PostgreSQL did not start on the data folder ${run.dataDir} (${how}). It said: ${said || 'nothing'}. ` +
      'Mend what it names and start again; its whole log is postgres.log in that folder. DATABASE_URL would use another server.',
  );
}

/** Another process launched a server on this folder a moment before ours, which PostgreSQL then refused. */
const lostRace = (said: string): boolean => said.includes('lock file "postmaster.pid" already exists');

async function launch(
  run: RunContext,
  options: AcquireOptions,
  formerPid: number | undefined,
): Promise<Acquired | undefined> {
  const former = (await readPostmasterFile(run.cluster))?.socketFolder;
  const socketFolder = await reuseOrMakeSocketFolder(options.socketFolder ?? former, run.account);
  const launched = launchServer(run, { socketFolder, settings: options.settings, formerPid });
  let ended: string | undefined;
  void launched.ended.then((how) => (ended = how));
  try {
    while (ended === undefined) {
      const answer = await tryToGuard(socketFolder);
      if (answer.kind === 'guarded') return { pid: launched.pid, socketFolder, adopted: false, guard: answer.client };
      if (answer.kind === 'kept by another') throw keptByAnother(run, answer.keeper);
      await Promise.race([launched.ended, sleep(PAUSE_MS, undefined, { signal: options.signal })]);
    }
  } catch (error) {
    if (options.signal.aborted) await stopLaunched(launched);
    throw error;
  }
  if (lostRace(launched.said())) return undefined;
  throw launchFailed(run, ended, launched.said());
}

async function stopLaunched(launched: Launched): Promise<void> {
  launched.child.kill('SIGINT');
  await launched.ended;
}

function unknownOccupant(run: RunContext, pid: number): Error {
  return new Error(
    `The data folder names process ${pid} as its database server, and this account may not see what that process is. ` +
      `Given: ${run.dataDir}. Start as the account that started it, or stop process ${pid} first.`,
  );
}

/** Adopts the server that runs on the folder, waits for one that is starting, or starts one. */
export async function acquire(run: RunContext, options: AcquireOptions): Promise<Acquired> {
  for (let attempt = 1; attempt <= 20; attempt += 1) {
    const file = await readPostmasterFile(run.cluster);
    const occupant: Occupant = file === undefined ? 'none' : await whoHas(file.pid, run.cluster);
    if (file !== undefined && occupant === 'unknown') throw unknownOccupant(run, file.pid);
    const acquired =
      file !== undefined && occupant === 'server'
        ? await adopt(run, file, options.signal)
        : await launch(run, options, occupant === 'other program' ? file?.pid : undefined);
    if (acquired !== undefined) return acquired;
    await sleep(PAUSE_MS * attempt, undefined, { signal: options.signal });
  }
  throw launchFailed(run, 'another process kept starting and stopping it', '');
}
