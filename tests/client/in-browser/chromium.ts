import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import path from 'node:path';

/** Where a Chromium is on this machine: CHROMIUM says so, or it is in the path; null for none. */
export function findChromium(): string | null {
  const { CHROMIUM, PATH = '' } = process.env;
  if (CHROMIUM !== undefined) return CHROMIUM;
  return (
    PATH.split(path.delimiter)
      .map((folder) => path.join(folder, 'chromium'))
      .find((file) => existsSync(file)) ?? null
  );
}

/** A browser without a window, with all that it keeps in a folder. */
export interface Running {
  /** With all of its processes, in the middle of whatever they do; once it has ended, nothing. */
  kill(): Promise<void>;
}

export function openPage(program: string, profile: string, url: string): Running {
  const how = ['--headless=new', '--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage', '--no-first-run'];
  // a group of its own, so that a kill meets all of its processes
  const child = spawn(program, [...how, `--user-data-dir=${profile}`, url], { detached: true, stdio: 'ignore' });
  const ended = once(child, 'close');
  return {
    kill: async () => {
      const runs = child.exitCode === null && child.signalCode === null;
      if (runs && child.pid !== undefined) process.kill(-child.pid, 'SIGKILL');
      await ended;
    },
  };
}
