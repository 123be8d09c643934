import { once } from 'node:events';
import { createServer, type ServerResponse } from 'node:http';
import { type AddressInfo, connect, type Socket } from 'node:net';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { EventStream } from '../../src/doors/sync/event-stream.ts';
import { LiveStreams, STREAM_SETTINGS } from '../../src/doors/sync/live-streams.ts';
import type { LiveHub } from '../../src/reads/live/hub.ts';

const SETTINGS = { ...STREAM_SETTINGS, heartbeatMs: 20, blockedMs: 300 };
/** What the system takes of a line that nobody reads is a few megabytes. */
const PATIENCE_MS = 10_000;

const left: unknown[] = [];
/** Tells nobody anything by itself. */
const hub = {
  follow: (follower: unknown) => ({ open: () => undefined, leave: () => void left.push(follower) }),
  close: async () => undefined,
} as unknown as LiveHub;

const streams = new LiveStreams(hub, SETTINGS);
const responses: ServerResponse[] = [];
const server = createServer((request, response) => {
  const token = request.url ?? '';
  const stream = streams.admit({ firm: 'f', token, role: 'crew', device: null }, null, null);
  const events = new EventStream(response, performance.now());
  response.on('close', () => stream.close());
  events.begin({}, 1_000);
  streams.open(stream, events, new Map());
  responses.push(Object.assign(response, { tell: (step: number) => stream.tell(news(step)) }));
});
let port: number;

/** A hundred feeds have gone on. */
function news(step: number): Map<string, number> {
  return new Map(Array.from({ length: 100 }, (_, at) => [`event:018f0000-0000-7000-8000-0000000000${at}`, step]));
}

beforeAll(async () => {
  await once(server.listen(0, '127.0.0.1'), 'listening');
  port = (server.address() as AddressInfo).port;
});
afterAll(async () => {
  await streams.close();
  server.close();
  server.closeAllConnections();
});

/** Asks for a stream and reads nothing of it. */
async function ask(): Promise<{ socket: Socket; response: ServerResponse; tell: (step: number) => void }> {
  const count = responses.length;
  const socket = connect(port, '127.0.0.1');
  socket.on('error', () => undefined);
  socket.write(`GET /${count} HTTP/1.1\r\nhost: x\r\n\r\n`);
  socket.pause();
  await expect.poll(() => responses.length).toBe(count + 1);
  const response = responses[count] as ServerResponse & { tell: (step: number) => void };
  return { socket, response, tell: response.tell };
}

/** Tells until the line is full. @returns the last step */
async function fill(response: ServerResponse, tell: (step: number) => void): Promise<number> {
  const begunMs = performance.now();
  let step = 1;
  for (; !response.writableNeedDrain; step++) {
    tell(step);
    if (step % 50 === 0) await new Promise(setImmediate);
    if (performance.now() - begunMs > PATIENCE_MS) throw new Error('the line does not fill');
  }
  return step;
}

it('[L5] a reader that never reads is given up: nothing gathers for it, and its place is free', async () => {
  const { socket, response, tell } = await ask();
  const step = await fill(response, tell);
  const gathered = response.writableLength;
  for (let more = 1; more <= 2_000; more++) tell(step + more);
  expect(response.writableLength).toBe(gathered);
  expect(gathered).toBeLessThan(64 * 1_024);
  // what the system still takes is told as long as it takes it
  let more = 2_000;
  const going = setInterval(() => tell(step + ++more), 5);
  await expect.poll(() => streams.size, { timeout: 6_000 }).toBe(0);
  clearInterval(going);
  expect([left.length, response.destroyed]).toEqual([1, true]);
  socket.destroy();
});

it('[L5] a reader that reads again in time is told the last tail of each feed, and not those in between', async () => {
  const { socket, response, tell } = await ask();
  const step = await fill(response, tell);
  for (let more = 1; more <= 2_000; more++) tell(step + more);
  let text = '';
  socket.setEncoding('utf8');
  socket.on('data', (chunk: string) => (text += chunk));
  socket.resume();
  const last = `"tail":${step + 2_000}}`;
  await expect.poll(() => text.split(last).length - 1, { timeout: 5_000 }).toBe(100);
  expect(text).not.toContain(`"tail":${step + 1_000}}`);
  expect(streams.size).toBe(1);
  socket.destroy();
  await expect.poll(() => streams.size).toBe(0);
});
