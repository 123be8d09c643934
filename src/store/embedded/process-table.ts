import { execFile } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { readlink, realpath } from 'node:fs/promises';
import { promisify } from 'node:util';

/** Dead, and only waiting to be collected: in a container whose first process collects nobody, for ever. */
function isZombie(pid: number): boolean {
  try {
    return /^\d+ \(.*\) Z/s.test(readFileSync(`/proc/${pid}/stat`, 'utf8'));
  } catch {
    // no /proc on this system, or it has just gone
    return false;
  }
}

export function isAlive(pid: number): boolean {
  // 0 and less would ask about whole groups of processes
  if (pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return !isZombie(pid);
  } catch (error) {
    // not permitted to signal it: it lives, and belongs to somebody else
    return (error as NodeJS.ErrnoException).code === 'EPERM' && !isZombie(pid);
  }
}

async function commandLine(pid: number): Promise<string> {
  const run = promisify(execFile);
  const { stdout } = await run('ps', ['-ww', '-o', 'command=', '-p', String(pid)]).catch(() => ({ stdout: '' }));
  return stdout;
}

/** A live process: the server of this folder, certainly some other program, or not for us to see. */
export type Occupant = 'none' | 'server' | 'other program' | 'unknown';

/**
 * Who has this process number now. Numbers are given out again after a restart of the machine, so a live number
 * alone proves nothing; but the working folder of a PostgreSQL server is its data folder, and that does.
 */
export async function whoHas(pid: number, cluster: string): Promise<Occupant> {
  if (!isAlive(pid)) return 'none';
  if (process.platform !== 'linux') {
    const line = await commandLine(pid);
    if (line === '') return 'unknown';
    return line.includes('postgres') && line.includes(cluster) ? 'server' : 'other program';
  }
  const folder = await readlink(`/proc/${pid}/cwd`).catch(() => undefined);
  if (folder === undefined) return isAlive(pid) ? 'unknown' : 'none';
  return folder === (await realpath(cluster)) ? 'server' : 'other program';
}
