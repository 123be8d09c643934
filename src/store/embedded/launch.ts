import { type ChildProcess, spawn } from 'node:child_process';
import { closeSync, existsSync, openSync, readFileSync, renameSync, statSync } from 'node:fs';
import path from 'node:path';
import { folderArgument, programEnvironment, type RunContext } from './run-context.ts';
import { settingArguments } from './settings.ts';

const LARGEST_LOG_BYTES = 8 * 1024 * 1024;

export interface Launched {
  child: ChildProcess;
  pid: number;
  /** resolves when the program has ended, with how it ended */
  ended: Promise<string>;
  hasEnded(): boolean;
  /** what the server wrote to its log since it was launched */
  said(): string;
}

/** One older log is kept. The server writes to the file itself, so an orphan's log is not lost with its parent. */
function openLog(dataDir: string): { descriptor: number; file: string; from: number } {
  const file = path.join(dataDir, 'postgres.log');
  if (existsSync(file) && statSync(file).size > LARGEST_LOG_BYTES) renameSync(file, `${file}.1`);
  const descriptor = openSync(file, 'a', 0o600);
  return { descriptor, file, from: statSync(file).size };
}

function launchEnvironment(run: RunContext, formerPid: number | undefined): NodeJS.ProcessEnv {
  if (formerPid === undefined) return programEnvironment(run);
  // PostgreSQL will not start when the number in postmaster.pid is alive, even as another program. pg_ctl's own way
  // of telling it that a number is no rival is this variable; its shared-memory check still guards the folder.
  return { ...programEnvironment(run), PG_GRANDPARENT_PID: String(formerPid) };
}

export interface LaunchOptions {
  socketFolder: string;
  settings: Readonly<Record<string, string>>;
  /** the number in postmaster.pid, when it is certain that no server of this folder has it now */
  formerPid: number | undefined;
}

export function launchServer(run: RunContext, options: LaunchOptions): Launched {
  const log = openLog(run.dataDir);
  const folder = folderArgument(run, run.cluster);
  const child = spawn(
    run.programs.postgres,
    ['-D', folder, ...settingArguments(options.socketFolder, options.settings)],
    {
      ...run.account,
      cwd: run.cluster,
      env: launchEnvironment(run, options.formerPid),
      // its own session: Ctrl-C at the terminal must reach Node first, which stops the server when it is ready to
      detached: true,
      stdio: ['ignore', log.descriptor, log.descriptor],
    },
  );
  closeSync(log.descriptor);
  const ended = new Promise<string>((resolve) => {
    child.once('error', (error) => resolve(error.message));
    child.once('exit', (code, signal) => resolve(signal ?? `status ${code}`));
  });
  const said = () => readFileSync(log.file).subarray(log.from).toString('utf8').trim();
  const hasEnded = () => child.pid === undefined || child.exitCode !== null || child.signalCode !== null;
  return { child, pid: child.pid ?? 0, ended, hasEnded, said };
}
