import { setTimeout as sleep } from 'node:timers/promises';
import type { Acquired } from './acquire.ts';
import { type Guarding, type Keeper, tryToGuard } from './guard.ts';
import { type PostmasterFile, readPostmasterFile } from './postmaster-file.ts';
import { isAlive, whoHas } from './process-table.ts';
import type { RunContext } from './run-context.ts';

const PAUSE_MS = 50;
/** Recovery after a crash replays at most max_wal_size (1 GB) of log: minutes on a slow disk, never longer. */
const PATIENCE_MS = 10 * 60_000;
/** A server that calls itself ready and does not answer for this long has lost its socket. */
const SOCKET_PATIENCE_MS = 3_000;
/** The lock of a keeper that was killed goes when the server notices its closed connection; of a live one, never. */
const DEAD_KEEPER_PATIENCE_MS = 10_000;
const LIVE_KEEPER_PATIENCE_MS = 500;
const REPORT_EVERY_MS = 5_000;

export function keptByAnother(run: RunContext, keeper: Keeper): Error {
  return new Error(
    `The data folder is in use: process ${keeper.pid || '(just ended)'} runs its database. Given: ${run.dataDir}. ` +
      'Stop that process first, or name another folder in DATA_DIR.',
  );
}

function lostSocket(run: RunContext, file: PostmasterFile, reason: string): Error {
  return new Error(
    `PostgreSQL (process ${file.pid}) runs on the data folder but does not answer at ${file.socketFolder || 'a socket'} ` +
      `(${reason}). Given: ${run.dataDir}. Stop it with "kill -INT ${file.pid}" and start again; nothing is lost by that.`,
  );
}

async function ask(file: PostmasterFile): Promise<Guarding> {
  if (file.socketFolder === '') return { kind: 'not answering', reason: 'it has not named its socket yet' };
  return tryToGuard(file.socketFolder);
}

/** Patience is measured on the monotonic clock: a stopped server can make a single question take seconds. */
class Patience {
  readonly began = performance.now();
  keptSince: number | undefined;
  silentSince: number | undefined;
  reported = 0;

  note(answer: Guarding, status: string): void {
    const now = performance.now();
    this.keptSince = answer.kind === 'kept by another' ? (this.keptSince ?? now) : undefined;
    const silent = answer.kind === 'not answering' && status === 'ready';
    this.silentSince = silent ? (this.silentSince ?? now) : undefined;
  }

  shouldReport(): boolean {
    const due = performance.now() - this.began > (this.reported + 1) * REPORT_EVERY_MS;
    if (due) this.reported += 1;
    return due;
  }

  isOver(answer: Guarding): boolean {
    const now = performance.now();
    if (answer.kind === 'kept by another') {
      const patience = isAlive(answer.keeper.pid) ? LIVE_KEEPER_PATIENCE_MS : DEAD_KEEPER_PATIENCE_MS;
      return now - (this.keptSince ?? now) > patience;
    }
    return now - (this.silentSince ?? now) > SOCKET_PATIENCE_MS || now - this.began > PATIENCE_MS;
  }
}

/** Waits for the server that is already there and becomes its keeper; undefined when it went away meanwhile. */
export async function adopt(run: RunContext, pid: number, signal: AbortSignal): Promise<Acquired | undefined> {
  const patience = new Patience();
  for (;;) {
    const file = await readPostmasterFile(run.cluster);
    if (file?.pid !== pid || (await whoHas(pid, run.cluster)) !== 'server') return undefined;
    const answer = await ask(file);
    if (answer.kind === 'guarded') return { pid, socketFolder: file.socketFolder, adopted: true, guard: answer.client };
    patience.note(answer, file.status);
    if (patience.isOver(answer)) {
      throw answer.kind === 'kept by another'
        ? keptByAnother(run, answer.keeper)
        : lostSocket(run, file, answer.reason);
    }
    if (patience.shouldReport()) run.log.info({ pid, status: file.status }, 'waiting for the database to be ready');
    await sleep(PAUSE_MS, undefined, { signal });
  }
}
