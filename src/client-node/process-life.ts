import { readFileSync } from 'node:fs';
import os from 'node:os';

/** Names one process among all that ever ran on this machine. */
export interface ProcessName {
  readonly host: string;
  /** A process id is given out again after a restart; null where the system does not tell. */
  readonly boot: string | null;
  readonly pid: number;
  /** In ticks since the boot: a process id is given out again within one boot too. Null where the system does not tell. */
  readonly started: string | null;
}

function read(file: string): string | null {
  try {
    return readFileSync(file, 'latin1');
  } catch {
    return null;
  }
}

export function bootId(): string | null {
  return read('/proc/sys/kernel/random/boot_id')?.trim() ?? null;
}

/** The fields of /proc/PID/stat after the name, which may itself have spaces and brackets; proc(5). */
function statOf(pid: number): { readonly state: string; readonly started: string } | null {
  const text = read(`/proc/${pid}/stat`);
  const [state, ...fields] = text?.slice(text.lastIndexOf(')') + 2).split(' ') ?? [];
  const started = fields[18];
  return state === undefined || started === undefined ? null : { state, started };
}

export function thisProcess(): ProcessName {
  return { host: os.hostname(), boot: bootId(), pid: process.pid, started: statOf(process.pid)?.started ?? null };
}

function answers(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // It is there, but is another account's.
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Does it still run? In doubt it does: a folder of another machine is never taken. */
export function isAlive({ host, boot, pid, started }: ProcessName): boolean {
  if (host !== os.hostname()) return true;
  const now = bootId();
  if (boot !== null && now !== null && boot !== now) return false;
  if (!answers(pid)) return false;
  const stat = statOf(pid);
  if (stat === null || started === null) return true;
  // Z and X: it has ended, and nobody has collected it.
  return stat.started === started && stat.state !== 'Z' && stat.state !== 'X';
}
