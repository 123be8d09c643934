import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import path from 'node:path';
import { createInterface } from 'node:readline';

const root = path.join(import.meta.dirname, '../..');

/** Another Node process with an embedded database of its own. */
export interface EmbeddingProcess {
  pid: number;
  /** the highest row number whose commit was acknowledged */
  acked(): number;
  /** waits until so many rows were acknowledged */
  untilAcked(count: number): Promise<void>;
  /** as a power cut would: no handler runs */
  kill(): Promise<void>;
  stop(): Promise<void>;
}

export interface SpawnOptions {
  uid?: number;
  gid?: number;
  env?: Record<string, string>;
}

function spawnChild(dataDir: string, options: SpawnOptions): ChildProcess {
  const { env, ...account } = options;
  return spawn(process.execPath, ['--import', 'tsx', 'tests/support/embedding-child.ts', dataDir], {
    ...account,
    cwd: root,
    env: { PATH: process.env.PATH ?? '', HOME: '/nonexistent', ...env },
    stdio: ['pipe', 'pipe', 'pipe'],
  });
}

interface Line {
  ready?: number;
  acked?: number;
  failed?: string;
}

/** Rejects with the child's own words when it could not open its database. */
export async function spawnEmbedding(dataDir: string, options: SpawnOptions = {}): Promise<EmbeddingProcess> {
  const child = spawnChild(dataDir, options);
  let top = 0;
  let errors = '';
  child.stderr?.on('data', (chunk) => (errors += String(chunk)));
  const ended = once(child, 'close');
  const waiting: { count: number; resolve: () => void }[] = [];
  const opened = new Promise<void>((resolve, reject) => {
    if (child.stdout === null) return reject(new Error('the child has no output'));
    createInterface(child.stdout).on('line', (text) => {
      const line: Line = JSON.parse(text);
      if (line.ready !== undefined) resolve();
      if (line.failed !== undefined) reject(new Error(line.failed));
      if (line.acked === undefined) return;
      top = line.acked;
      for (const item of waiting) if (top >= item.count) item.resolve();
    });
    void ended.then(() => reject(new Error(`the child ended: ${errors}`)));
  });
  await opened;
  return {
    pid: child.pid ?? 0,
    acked: () => top,
    untilAcked: (count) => new Promise((resolve) => (top >= count ? resolve() : waiting.push({ count, resolve }))),
    async kill() {
      child.kill('SIGKILL');
      await ended;
    },
    async stop() {
      child.stdin?.write('stop\n');
      await ended;
    },
  };
}
