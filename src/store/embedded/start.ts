import { setTimeout as sleep } from 'node:timers/promises';
import type { Acquired, AcquireOptions } from './acquire.ts';
import { keptByAnother } from './adopt.ts';
import { tryToGuard } from './guard.ts';
import { type Launched, launchServer } from './launch.ts';
import { readPostmasterFile } from './postmaster-file.ts';
import type { RunContext } from './run-context.ts';
import { makeSocketFolder, removeSocketFolder } from './socket-folder.ts';

const FIRST_PAUSE_MS = 10;
const LONGEST_PAUSE_MS = 250;

/** What the system says when it has no loader, or too old a C library, for these programs. */
const FOREIGN_SYSTEM = /ENOENT|not found|GLIBC|required file/;

/** The lines that say why; the server also reports its version and every refused connection while it starts. */
function reasons(said: string): string {
  const lines = said.split('\n');
  const telling = lines.filter(
    (line) => /(FATAL|PANIC|ERROR|DETAIL|HINT): /.test(line) && !/accepting connections|starting up/.test(line),
  );
  return (telling.length > 0 ? telling : lines).join('\n').trim();
}

export function launchFailed(run: RunContext, how: string, said: string): Error {
  const hint = FOREIGN_SYSTEM.test(`${how} ${said}`)
    ? 'The programs need a Linux with glibc (not musl); otherwise set DATABASE_URL to a PostgreSQL server of your own.'
    : 'Mend what it names and start again; the whole log is postgres.log in that folder. DATABASE_URL would use another server.';
  return new Error(
    `PostgreSQL did not start on the data folder ${run.dataDir} (${how}). It said: ${reasons(said) || 'nothing'}. ${hint}`,
  );
}

/**
 * Another process launched a server here a moment before ours, or the last sessions of a killed server have not
 * quite gone. PostgreSQL refuses both, and both pass.
 */
const passing = (said: string): boolean =>
  said.includes('lock file "postmaster.pid" already exists') || said.includes('pre-existing shared memory block');

async function untilItAnswers(run: RunContext, launched: Launched, socketFolder: string, signal: AbortSignal) {
  let how: string | undefined;
  void launched.ended.then((end) => (how = end));
  for (let pauseMs = FIRST_PAUSE_MS; how === undefined; pauseMs = Math.min(pauseMs * 1.5, LONGEST_PAUSE_MS)) {
    const answer = await tryToGuard(socketFolder);
    if (answer.kind === 'guarded') return answer.client;
    if (answer.kind === 'kept by another') throw keptByAnother(run, answer.keeper);
    await Promise.race([launched.ended, sleep(pauseMs, undefined, { signal })]);
  }
  if (passing(launched.said())) return undefined;
  throw launchFailed(run, how, launched.said());
}

/** Starts a server and becomes its keeper; undefined when it is worth looking again. */
export async function start(
  run: RunContext,
  options: AcquireOptions,
  formerPid: number | undefined,
): Promise<Acquired | undefined> {
  const former = (await readPostmasterFile(run.cluster))?.socketFolder;
  const socketFolder = options.socketFolder ?? (await makeSocketFolder(run.account));
  const launched = launchServer(run, { socketFolder, settings: options.settings, formerPid });
  let guard: Acquired['guard'] | undefined;
  try {
    guard = await untilItAnswers(run, launched, socketFolder, options.signal);
  } finally {
    if (options.signal.aborted) {
      launched.child.kill('SIGINT');
      await launched.ended;
    }
    if (guard === undefined && options.socketFolder === undefined && launched.hasEnded()) {
      await removeSocketFolder(socketFolder, run.account);
    }
  }
  if (guard === undefined) return undefined;
  if (former !== undefined && former !== socketFolder) await removeSocketFolder(former, run.account);
  return { pid: launched.pid, socketFolder, adopted: false, guard };
}
