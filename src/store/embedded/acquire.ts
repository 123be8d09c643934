import { setTimeout as sleep } from 'node:timers/promises';
import type pg from 'pg';
import { adopt } from './adopt.ts';
import { readPostmasterFile } from './postmaster-file.ts';
import { whoHas } from './process-table.ts';
import type { RunContext } from './run-context.ts';
import { launchFailed, start } from './start.ts';

/** A server that answers and that this process keeps. */
export interface Acquired {
  pid: number;
  socketFolder: string;
  adopted: boolean;
  guard: pg.Client;
}

export interface AcquireOptions {
  settings: Readonly<Record<string, string>>;
  /** where the pool already looks for the socket */
  socketFolder: string | undefined;
  signal: AbortSignal;
}

/** Together about 10 s: the sessions of a killed server end within that. */
const ATTEMPTS = 20;
const PAUSE_MS = 50;

function unknownOccupant(run: RunContext, pid: number): Error {
  return new Error(
    `The data folder names process ${pid} as its database server, and this account may not see what that process is. ` +
      `Given: ${run.dataDir}. Start as the account that started it, or stop process ${pid} first.`,
  );
}

async function once(run: RunContext, options: AcquireOptions): Promise<Acquired | undefined> {
  const file = await readPostmasterFile(run.cluster);
  if (file === undefined) return start(run, options, undefined);
  const occupant = await whoHas(file.pid, run.cluster);
  if (occupant === 'unknown') throw unknownOccupant(run, file.pid);
  return occupant === 'server' ? adopt(run, file.pid, options.signal) : start(run, options, file.pid);
}

/** Adopts the server that runs on the folder, waits for one that is starting, or starts one. */
export async function acquire(run: RunContext, options: AcquireOptions): Promise<Acquired> {
  for (let attempt = 1; attempt <= ATTEMPTS; attempt += 1) {
    const acquired = await once(run, options);
    if (acquired !== undefined) return acquired;
    await sleep(PAUSE_MS * attempt, undefined, { signal: options.signal });
  }
  throw launchFailed(run, 'the server of another process kept coming and going', '');
}
