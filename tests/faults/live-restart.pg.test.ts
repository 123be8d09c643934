import { setTimeout as sleep } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { dataFolders, serverOn } from '../support/data-folders.ts';
import { LiveReader } from '../support/live-reader.ts';
import { command, RealServer } from './real-server.ts';

const folders = dataFolders();
let dataDir: string;
let secret: string;
let server: RealServer;
let pushes = 0;
const client = v7();

beforeAll(async () => {
  dataDir = await folders.make();
  const printed = await command(dataDir, 'init', '--firm', 'Testwater Associates');
  [, secret = ''] = /^token (\S+)$/m.exec(printed) ?? [];
  server = await RealServer.start(dataDir);
}, 120_000);
afterAll(() => folders.removeAll(), 60_000);

/** Enters a crew, trying until the server can take it. @returns where the feed of the firm ends then */
async function push(): Promise<number> {
  pushes += 1;
  const line = { mutationId: pushes, verb: 'record', kind: 'crew', id: v7(), set: { name: `Crew ${pushes}` } };
  const body = `${JSON.stringify({ client, schemaVersion: 1, first: pushes, count: 1 })}\n${JSON.stringify(line)}\n`;
  const headers = { authorization: `Bearer ${secret}`, 'content-type': 'application/x-ndjson' };
  for (;;) {
    const response = await fetch(`${server.url}/v1/sync/push`, { method: 'POST', headers, body });
    const answer = (await response.json()) as { outcomes?: readonly { seq: number }[] };
    if (response.status === 200) return answer.outcomes?.[0]?.seq ?? 0;
    if (response.status !== 503) throw new Error(`a push was answered ${response.status}`);
    await sleep(50);
  }
}

it('[L3] [L7] a stream outlives its database, hears of what came after, and ends in order with its process', async () => {
  const reader = await LiveReader.open(server.url, secret);
  await reader.untilTail('firm', await push());
  process.kill((await serverOn(dataDir)) ?? 0, 'SIGKILL');
  await reader.untilTail('firm', await push(), 30_000);
  expect(reader.closed).toBe(false);
  const begunMs = performance.now();
  await server.stop();
  await reader.untilClosed();
  expect(reader.reason).toBe('closing');
  expect(performance.now() - begunMs).toBeLessThan(8_000);
}, 60_000);
