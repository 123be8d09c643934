import { setTimeout as sleep } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openClient } from '../../src/client/client.ts';
import { followLive, type LiveResponse, type OpenLive, standsAt } from '../../src/client/follow-live.ts';
import { httpTransport } from '../../src/client/http-transport.ts';
import { memoryStore } from '../../src/client/memory-store.ts';
import { syncOnce } from '../../src/client/sync.ts';
import { type LiveServer, LiveWorld } from '../support/live-world.ts';
import { SimClock } from './fake/phone.ts';

let world: LiveWorld;
let one: LiveServer;
let two: LiveServer;

beforeAll(async () => {
  world = await LiveWorld.open();
  [one, two] = [await world.server(), await world.server({ lookEveryMs: 3_600_000, believedMs: 3_600_000 })];
});
afterAll(() => world.close());

/** As a phone app would do it with the fetch of its platform; what it opened can be cut. */
function platform(opened: LiveResponse[]): OpenLive {
  return async (url, request) => {
    const giveUp = new AbortController();
    const response = await fetch(url, { ...request, signal: giveUp.signal });
    async function* chunks(): AsyncGenerator<string> {
      const decoder = new TextDecoder();
      for await (const bytes of response.body ?? []) yield decoder.decode(bytes, { stream: true });
    }
    const { status, headers } = response;
    const live = { status, headers, text: () => response.text(), chunks, cancel: () => giveUp.abort() };
    opened.push(live);
    return live;
  };
}

it('[L1] [L4] a phone has what others record without asking, also after its line was cut, until its token is revoked', async () => {
  const { id, secret } = await world.token('crew', world.firm.ids.phone);
  const base = two.url;
  const store = memoryStore();
  const transport = httpTransport({ base, token: secret, fetch });
  const phone = await openClient({ store, transport, time: new SimClock(), newId: v7 });
  const opened: LiveResponse[] = [];
  const following = followLive({
    base,
    token: secret,
    client: async () => (await phone.identity()).client,
    open: platform(opened),
    news: async (tails) => (await standsAt(store, tails)) || (await syncOnce(phone)).problem === null,
    wait: (ms) => sleep(ms / 20, undefined, { ref: false }),
    random: Math.random,
  });
  const writer = await world.writer(one.lane);
  for (let time = 0; time < 3; time++) {
    const tail = await world.write(writer);
    await expect.poll(() => standsAt(store, new Map([[world.feed, tail]])), { timeout: 5_000 }).toBe(true);
    expect(following.live).toBe(true);
    opened.at(-1)?.cancel();
  }
  expect((await phone.all('assignment')).length).toBeGreaterThan(3);
  await world.revoke(id);
  // its process looks seldom in this test: the line is cut, and the next one refused
  await expect
    .poll(
      async () => {
        opened.at(-1)?.cancel();
        return Promise.race([following.done, sleep(20, 'not yet')]);
      },
      { timeout: 5_000 },
    )
    .toMatchObject({ status: 401, code: 'unauthenticated' });
});
