import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { createServer, type Server } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serverOn, stopServerOn } from './support/data-folders.ts';

const PATIENCE_MS = 60_000;
const ROOT = path.join(import.meta.dirname, '..');

let folder: string;
let other: Server;
let taken: number;

beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'wellround-serve-'));
  other = createServer();
  await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
  taken = (other.address() as { readonly port: number }).port;
});
afterAll(async () => {
  other.close();
  await stopServerOn(folder);
  await rm(folder, { recursive: true, force: true });
});

interface Run {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** `npm start` with nothing but these settings; stopped as soon as it says that it is ready. */
function start(env: Readonly<Record<string, string>>): Promise<Run> {
  const { PATH, HOME } = process.env;
  const child = spawn(process.execPath, ['--import', 'tsx', 'src/main.ts'], {
    cwd: ROOT,
    env: { PATH, HOME, LOG_LEVEL: 'silent', ...env },
  });
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk) => {
    out += String(chunk);
    if (out.startsWith('ready ') && out.includes('\n')) child.kill('SIGTERM');
  });
  child.stderr.on('data', (chunk) => (err += String(chunk)));
  return new Promise((resolve) => child.once('close', (code) => resolve({ code, out, err })));
}

describe('npm start', () => {
  it(
    'says where it serves, and that it stopped',
    async () => {
      const run = await start({ PORT: '0', DATA_DIR: folder });
      expect(run).toMatchObject({ code: 0, err: '' });
      expect(run.out).toMatch(/^ready http:\/\/127\.0\.0\.1:\d+\nstopped\n$/);
      expect(await serverOn(folder)).toBeUndefined();
    },
    PATIENCE_MS,
  );

  it(
    'names the setting where a port or an address cannot be had, and leaves no database running',
    async () => {
      const onTaken = await start({ PORT: String(taken), DATA_DIR: folder });
      expect(onTaken).toEqual({
        code: 78,
        out: '',
        err: `Another program serves on 127.0.0.1 port ${taken}. Stop it, or name another port in PORT; PORT=0 takes a free one.\n`,
      });
      const elsewhere = await start({ PORT: '0', HOST: '192.0.2.1', DATA_DIR: folder });
      expect(elsewhere.code).toBe(78);
      expect(elsewhere.err).toContain('HOST "192.0.2.1" is no address of this machine.');
      expect(await serverOn(folder)).toBeUndefined();
    },
    PATIENCE_MS,
  );

  it('refuses an application account without the database that it is one of', async () => {
    const run = await start({ APP_DATABASE_URL: 'postgres://app@127.0.0.1/none', DATA_DIR: folder });
    expect(run.code).toBe(78);
    expect(run.err).toContain('APP_DATABASE_URL was given without DATABASE_URL.');
  });

  it.runIf(process.platform === 'linux')(
    'says so where no folder can be made, instead of trying for ever',
    async () => {
      const run = await start({ DATA_DIR: '/proc/wellround/data' });
      expect(run.code).toBe(1);
      expect(run.err).toContain(
        'The data folder cannot be used (ENOENT at /proc/wellround). Given: /proc/wellround/data',
      );
    },
  );
});
