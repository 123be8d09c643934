import { type ChildProcess, spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';
import type { Cleanup } from './cleanup.ts';

const ROOT = path.join(import.meta.dirname, '../..');
const GUARD = path.join(import.meta.dirname, 'child-guard.ts');
const STOP_PATIENCE_MS = 12_000;

/** The options of Node with which the server is started by whoever installs it; both sides of a row have them. */
const START: string = JSON.parse(readFileSync(path.join(ROOT, 'package.json'), 'utf8')).scripts.start;
const NODE_OPTIONS = START.match(/--\S+/g) ?? [];

/** A server in a process of its own, so that the load does not share a thread with what it measures. */
export interface Child {
  readonly url: string;
  readonly pid: number;
  /** Sends a message to what is loaded beside the server, and waits for its answer. */
  ask(message: string): Promise<unknown>;
  stop(): Promise<void>;
}

function untilReady(child: ChildProcess, what: string): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.stdout?.on('data', (chunk) => {
      said += String(chunk);
      const url = /^ready (\S+)$/m.exec(said)?.[1];
      if (url) resolve(url);
    });
    child.once('error', reject);
    child.once('exit', (code, signal) => reject(new Error(`${what} ended with ${signal ?? code}: ${said}`)));
  });
}

async function stop(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = new Promise((resolve) => child.once('exit', resolve));
  child.kill('SIGTERM');
  const timer = setTimeout(() => child.kill('SIGKILL'), STOP_PATIENCE_MS);
  await ended;
  clearTimeout(timer);
}

/** Starts a program that prints `ready URL`; it ends with this run, whatever becomes of it. */
export async function startChild(
  cleanup: Cleanup,
  file: string,
  env: Readonly<Record<string, string>>,
): Promise<Child> {
  const child = spawn(
    process.execPath,
    [...NODE_OPTIONS, '--import', 'tsx', '--import', GUARD, path.join(ROOT, file)],
    {
      cwd: ROOT,
      env: { ...process.env, ...env },
      stdio: ['ignore', 'pipe', 'inherit', 'ipc'],
    },
  );
  cleanup.add(() => stop(child));
  const url = await untilReady(child, file);
  return {
    url,
    pid: child.pid ?? 0,
    stop: () => stop(child),
    ask: (message) =>
      new Promise((resolve, reject) => {
        child.once('message', resolve);
        child.send(message, (error) => error && reject(error));
      }),
  };
}
