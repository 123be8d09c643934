import { setTimeout as sleep } from 'node:timers/promises';
import { whoHas } from './process-table.ts';
import type { RunContext } from './run-context.ts';

const PAUSE_MS = 20;
/** A fast shutdown writes one checkpoint; an immediate one after this leaves a recovery for the next start. */
const FAST_PATIENCE_MS = 30_000;

async function gone(run: RunContext, pid: number, patienceMs: number): Promise<boolean> {
  for (let waitedMs = 0; waitedMs < patienceMs; waitedMs += PAUSE_MS) {
    if ((await whoHas(pid, run.cluster)) !== 'server') return true;
    await sleep(PAUSE_MS);
  }
  return false;
}

/** SIGINT is PostgreSQL's fast shutdown: sessions are ended, transactions rolled back, everything else is on disk. */
export async function shutDown(run: RunContext, pid: number): Promise<void> {
  if ((await whoHas(pid, run.cluster)) !== 'server') return;
  process.kill(pid, 'SIGINT');
  if (await gone(run, pid, FAST_PATIENCE_MS)) return;
  run.log.warn(
    { pid },
    'the embedded database did not stop in time; it is stopped at once and will recover at the next start',
  );
  process.kill(pid, 'SIGQUIT');
  await gone(run, pid, FAST_PATIENCE_MS);
}
