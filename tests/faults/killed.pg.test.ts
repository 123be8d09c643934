import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dataFolders, serverOn, stopServerOn } from '../support/data-folders.ts';
import { seeded } from '../support/faulty-pool.ts';
import { command, RealServer } from './real-server.ts';
import { SteadyPusher } from './steady-pusher.ts';

const LONG = process.env.LONG === '1';
const CYCLES = LONG ? 50 : 5;
const CLIENTS = 8;

const folders = dataFolders();
let dataDir: string;
let secret: string;
let server: RealServer | null = null;

beforeAll(async () => {
  dataDir = await folders.make();
  const printed = await command(dataDir, 'init', '--firm', 'Testwater Associates');
  [, secret = ''] = /^token (\S+)$/m.exec(printed) ?? [];
  expect(secret).toMatch(/^wrt_/);
}, 120_000);
afterAll(async () => {
  await server?.stop();
  await stopServerOn(dataDir);
  await folders.removeAll();
}, 60_000);

interface Listed {
  readonly items: readonly { readonly id: string; readonly rev: number; readonly fields: { readonly name: string } }[];
  readonly next: string | null;
}

/** Every crew that the server has, by its id. */
async function crews(url: string): Promise<Map<string, { rev: number; name: string }>> {
  const found = new Map<string, { rev: number; name: string }>();
  let cursor: string | null = '';
  while (cursor !== null) {
    const address = `${url}/v1/crews?limit=200${cursor === '' ? '' : `&cursor=${cursor}`}`;
    const page = (await (await fetch(address, { headers: { authorization: `Bearer ${secret}` } })).json()) as Listed;
    for (const { id, rev, fields } of page.items) found.set(id, { rev, name: fields.name });
    cursor = page.next;
  }
  return found;
}

/** How long a slow machine may take for what is waited for, in milliseconds. */
const PATIENCE_MS = 30_000;

const acknowledgedBy = (pushers: readonly SteadyPusher[]) =>
  pushers.reduce((sum, { acknowledged }) => sum + acknowledged.size, 0);

/** Resolves when the clients have been told of so many mutations, however fast the machine is, or push no more. */
async function toldOf(count: number, pushers: readonly SteadyPusher[], pushing: Promise<unknown>): Promise<void> {
  const endMs = performance.now() + PATIENCE_MS;
  let over = false;
  void pushing.finally(() => {
    over = true;
  });
  while (!over && acknowledgedBy(pushers) < count && performance.now() < endMs) await sleep(5);
}

/** Kills the server while eight clients push; of every second time, its database with it. */
async function oneCycle(cycle: number, random: () => number, pushers: readonly SteadyPusher[]): Promise<void> {
  server = await RealServer.start(dataDir, server?.port ?? 0);
  const before = acknowledgedBy(pushers);
  const { url } = server;
  const pushing = Promise.all(pushers.map((pusher) => pusher.pushUntilLost(url, 1 + Math.floor(random() * 20))));
  await toldOf(before + CLIENTS + Math.floor(random() * 40 * CLIENTS), pushers, pushing);
  await sleep(random() * 50);
  await server.kill();
  const database = cycle % 2 === 1 ? await serverOn(dataDir) : undefined;
  if (database !== undefined) process.kill(database, 'SIGKILL');
  await pushing;
}

describe('a server that is killed in the middle of pushes', () => {
  it(
    '[W1] [W2] has every acknowledged mutation once after it comes up again, and resending brings in the rest',
    async () => {
      const seed = Number(process.env.FUZZ_SEED ?? Math.floor(Math.random() * 2 ** 31));
      console.info(`FUZZ_SEED=${seed}`);
      const random = seeded(seed);
      const pushers = Array.from({ length: CLIENTS }, (_, at) => new SteadyPusher(`Crew of client ${at}`, secret));
      for (let cycle = 0; cycle < CYCLES; cycle++) {
        await oneCycle(cycle, random, pushers);
      }
      server = await RealServer.start(dataDir, server?.port ?? 0);
      const { url } = server;
      const acknowledged = pushers.flatMap((pusher) => [...pusher.acknowledged]);
      const kept = await crews(url);
      const lost = acknowledged.filter(([id, { name }]) => kept.get(id)?.name !== name);
      expect(lost).toEqual([]);
      expect(acknowledged.length).toBeGreaterThanOrEqual(CYCLES * CLIENTS);
      const differing = (await Promise.all(pushers.map((pusher) => pusher.resendAll(url)))).flat();
      expect(differing).toEqual([]);
      const settled = await crews(url);
      const all = pushers.flatMap((pusher) => [...pusher.acknowledged]);
      expect(settled.size).toBe(all.length);
      expect(all.filter(([id, { name }]) => settled.get(id)?.name !== name || settled.get(id)?.rev !== 1)).toEqual([]);
      console.info(`${CYCLES} kills, ${acknowledged.length} acknowledged before the end, ${all.length} in all`);
      await server.stop();
      server = null;
    },
    LONG ? 1_200_000 : 240_000,
  );
});
