import { once } from 'node:events';
import net from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Listening, listening } from './listening.ts';

/** Within this, every connection that only keeps others out is closed. */
const PATIENCE_MS = 15_000;
const SLOW = 40;

let server: Listening;
let secret: string;

beforeAll(async () => {
  server = await listening();
  secret = await server.t.token('crew', server.t.firm.ids.phone);
});
afterAll(() => server.t.close());

/** Writes so much at once, and then a byte a second. @returns how long the server bore it */
async function trickle(begin: string, more: string): Promise<number> {
  const began = performance.now();
  const socket = net.connect(server.port, '127.0.0.1');
  socket.on('error', () => undefined);
  socket.resume();
  const closed = once(socket, 'close');
  socket.write(begin);
  const drip = setInterval(() => socket.write(more), 1_000);
  const late = sleep(PATIENCE_MS + 5_000, 'late', { ref: false });
  const how = await Promise.race([closed, late]);
  clearInterval(drip);
  socket.destroy();
  return how === 'late' ? Number.POSITIVE_INFINITY : performance.now() - began;
}

const HEAD = 'POST /v1/sync/push HTTP/1.1\r\nhost: x\r\n';

/** Ways to take long: nothing said, headers that do not end, and a body that does not, from known and unknown senders. */
const WAYS: readonly (readonly [string, () => [begin: string, more: string]])[] = [
  ['that says nothing', () => ['', '']],
  ['whose headers never end', () => [HEAD, 'x: y\r\n']],
  [
    'whose body never ends',
    () => [
      `${HEAD}authorization: Bearer ${secret}\r\ncontent-type: application/x-ndjson\r\ncontent-length: 100000\r\n\r\n{`,
      ' ',
    ],
  ],
  [
    'whose body never ends, in pieces',
    () => [
      `${HEAD}authorization: Bearer ${secret}\r\ncontent-type: application/x-ndjson\r\ntransfer-encoding: chunked\r\n\r\n`,
      '1\r\n \r\n',
    ],
  ],
];

/** A client that asks again and again. @returns how long each answer took */
async function goodClient(until: () => boolean): Promise<number[]> {
  const took: number[] = [];
  while (!until()) {
    const began = performance.now();
    const answer = await fetch(`${server.url}/v1/wells`, { headers: { authorization: `Bearer ${secret}` } });
    await answer.text();
    expect(answer.status).toBe(200);
    took.push(performance.now() - began);
    await sleep(50);
  }
  return took;
}

describe('a connection that takes its time', () => {
  it(`is closed within ${PATIENCE_MS / 1_000} s, whatever it waits for, while others are served`, async () => {
    let over = false;
    const good = Promise.all([goodClient(() => over), goodClient(() => over)]);
    const slow = WAYS.flatMap(([what, make]) =>
      Array.from({ length: SLOW / WAYS.length }, async () => [what, await trickle(...make())] as const),
    );
    const borne = await Promise.all(slow);
    over = true;
    const took = (await good).flat().sort((a, b) => a - b);
    const worst = new Map(
      WAYS.map(([what]) => [what, Math.max(...borne.filter(([of]) => of === what).map(([, ms]) => ms))]),
    );
    console.info(
      `borne for at most ${JSON.stringify(Object.fromEntries([...worst].map(([what, ms]) => [what, Math.round(ms)])))} ms`,
    );
    console.info(`${took.length} good answers, p99 ${Math.round(took[Math.floor(took.length * 0.99)] ?? 0)} ms`);
    expect([...worst].filter(([, ms]) => ms > PATIENCE_MS)).toEqual([]);
    expect(took.length).toBeGreaterThan(50);
  }, 60_000);
});
