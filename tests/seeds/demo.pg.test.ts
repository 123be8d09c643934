import { existsSync } from 'node:fs';
import { chmod, mkdtemp, readdir, rm } from 'node:fs/promises';
import { createServer } from 'node:net';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openCrew } from '../../src/client-node/crew/open-crew.ts';
import { crewTyping } from '../client-node/crew-child.ts';
import { serverOn, stopServerOn } from '../support/data-folders.ts';
import { isRoot, ordinaryAccount } from '../support/ordinary-account.ts';
import { type DemoProcess, startDemo } from './demo-process.ts';

/** It is to take 10 s on a machine of its own; here others may be at work beside it. */
const PATIENCE_MS = 120_000;

let dataDir: string;

beforeAll(async () => {
  dataDir = await mkdtemp(path.join(os.tmpdir(), 'wellround-demo-'));
  await chmod(dataDir, 0o777);
});
afterAll(async () => {
  for (const name of await readdir(dataDir)) await stopServerOn(path.join(dataDir, name));
  await rm(dataDir, { recursive: true, force: true });
});

function expectStatus(demo: DemoProcess): void {
  expect(demo.out()).toMatch(/^ready http:\/\/127\.0\.0\.1:\d+$/m);
  expect(demo.out()).toContain('16 wells planned: 12 sampled');
  expect(demo.out()).toContain('Open flags');
  expect(demo.out()).toContain('Conflicts for a person to decide: 2');
  expect(demo.out()).toMatch(/export URL=http:\/\/127\.0\.0\.1:\d+ TOKEN=wrt_/);
}

/** Takes up what the West crew left, with the commands that were printed. */
async function goOnAsTheCrew(demo: DemoProcess): Promise<void> {
  const folder = /export CREW_FOLDER='(.+)'/.exec(demo.out())?.[1] ?? '';
  const commands = [...demo.out().matchAll(/^ {2}npm run crew -- (.+)$/gm)].map(([, command = '']) => command);
  expect(commands).toEqual(['status', 'read MW-12', 'sync', 'help']);
  const typed = ['ph=7.02 temp=12.31\n', '\t', 'ph=7.01 temp=12.30\n', 'done\n'];
  const said: string[] = [];
  for (const command of commands) {
    const ran = await crewTyping(folder, command.startsWith('read') ? typed : [], ...command.split(' '));
    expect(ran).toMatchObject({ code: 0, err: '' });
    said.push(ran.out);
  }
  const [status, read, sync] = said;
  const waiting = Number(/^unsent {3}([1-9]\d*), /m.exec(status ?? '')?.[1]);
  expect(status).toContain('MW-12    not stable yet');
  expect(read).toMatch(/ph=7\.02 .*; IV reads, OT writes\n(.*\n)+kept .*ph=7\.01 .*; OT reads/);
  expect(sync).toContain(`sent ${waiting + 2}, got`);
  const crew = await openCrew(folder, () => undefined);
  const wallMs = Date.parse(crew.client.context.time.wall());
  await crew.close();
  // the folder goes by the time of the play, whatever day it is here
  expect(wallMs).toBeGreaterThan(Date.parse('2026-10-14T17:40:00-05:00'));
  expect(wallMs).toBeLessThan(Date.parse('2026-10-15T17:40:00-05:00'));
}

describe('npm run demo', () => {
  it(
    'with --once plays, prints how the event stands and where it serves, stops everything, and exits 0',
    async () => {
      const demo = startDemo({ env: { PORT: '0', DATA_DIR: dataDir }, args: ['--once'] });
      expect(await demo.ended, demo.err()).toBe(0);
      expectStatus(demo);
      expect(demo.err()).toBe('');
      expect(await serverOn(path.join(dataDir, 'run-1'))).toBeUndefined();
    },
    PATIENCE_MS,
  );

  it(
    'stays up, answers what it printed, and on Ctrl-C stops cleanly; begins anew after an earlier run',
    async () => {
      const demo = startDemo({ env: { PORT: '0', DATA_DIR: dataDir } });
      const url = await demo.line('ready ');
      expectStatus(demo);
      expect(demo.out()).toContain(`Cleared away an earlier demo: ${path.join(dataDir, 'run-1')}`);
      expect(existsSync(path.join(dataDir, 'run-1'))).toBe(false);
      const token = /TOKEN=(\S+)/.exec(demo.out())?.[1];
      const answer = await fetch(`${url}/v1/sync/feeds`, { headers: { authorization: `Bearer ${token}` } });
      expect(answer.status).toBe(200);
      await answer.text();
      await goOnAsTheCrew(demo);
      demo.signal('SIGINT');
      await demo.ended;
      expect(demo.err()).toBe('');
      await expect(fetch(url)).rejects.toThrow();
      expect(await serverOn(path.join(dataDir, 'run-2'))).toBeUndefined();
    },
    PATIENCE_MS,
  );
});

describe('a demo that is interrupted', () => {
  it(
    'stops cleanly on Ctrl-C in the middle of the play, without a word about phones that lost their server',
    async () => {
      const demo = startDemo({ env: { PORT: '0', DATA_DIR: dataDir } });
      await demo.line('Mon 12 Oct');
      demo.signal('SIGINT');
      await demo.ended;
      expect(demo.err()).toBe('');
      expect(demo.out()).not.toContain('ready ');
      expect(await serverOn(path.join(dataDir, 'run-3'))).toBeUndefined();
    },
    PATIENCE_MS,
  );

  it(
    'takes over and stops what a killed demo left running',
    async () => {
      const killed = startDemo({ env: { PORT: '0', DATA_DIR: dataDir } });
      await killed.line('Mon 12 Oct');
      killed.signal('SIGKILL');
      await killed.ended;
      const orphan = (await readdir(dataDir)).find((name) => name.startsWith('run-'));
      const folder = path.join(dataDir, orphan ?? '');
      expect(await serverOn(folder)).toBeDefined();
      const demo = startDemo({ env: { PORT: '0', DATA_DIR: dataDir }, args: ['--once'] });
      expect(await demo.ended, demo.err()).toBe(0);
      expect(demo.out()).toContain(`Cleared away an earlier demo: ${folder}`);
      expect(existsSync(folder)).toBe(false);
    },
    PATIENCE_MS,
  );
});

describe('a demo elsewhere', () => {
  it(
    'works for an ordinary account as it does for root',
    async () => {
      const account = isRoot ? ordinaryAccount() : undefined;
      const folder = path.join(dataDir, 'ordinary');
      const options = { env: { PORT: '0', DATA_DIR: folder, HOME: dataDir }, args: ['--once'], bare: true };
      const demo = startDemo({ ...options, ...(account === undefined ? {} : { account }) });
      expect(await demo.ended, demo.err()).toBe(0);
      expectStatus(demo);
    },
    PATIENCE_MS,
  );

  it(
    'says so where another program has the port, and leaves nothing running',
    async () => {
      const other = createServer();
      await new Promise<void>((resolve) => other.listen(0, '127.0.0.1', resolve));
      const port = (other.address() as { readonly port: number }).port;
      const folder = path.join(dataDir, 'taken');
      const demo = startDemo({ env: { PORT: String(port), DATA_DIR: folder }, args: ['--once'], bare: true });
      expect(await demo.ended).toBe(78);
      expect(demo.err()).toContain(`Another program serves on 127.0.0.1 port ${port}`);
      expect(await serverOn(path.join(folder, 'run-1'))).toBeUndefined();
      other.close();
    },
    PATIENCE_MS,
  );

  it(
    'names a setting that cannot be used, before it makes anything',
    async () => {
      const folder = path.join(dataDir, 'never');
      const demo = startDemo({ env: { PORT: 'eighty', DATA_DIR: folder }, args: ['--once'], bare: true });
      expect(await demo.ended).toBe(78);
      expect(demo.err()).toContain('PORT: "eighty" was given');
      expect(existsSync(folder)).toBe(false);
    },
    PATIENCE_MS,
  );
});
