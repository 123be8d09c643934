import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { LiveReader } from '../../support/live-reader.ts';
import { type LiveServer, LiveWorld } from '../../support/live-world.ts';
import { TestFirm } from '../../support/test-firm.ts';

let world: LiveWorld;
/** Two processes; what is heard by look alone would come too late for these tests. */
let one: LiveServer;
let two: LiveServer;

const SELDOM = { lookEveryMs: 3_600_000, believedMs: 3_600_000 };

beforeAll(async () => {
  world = await LiveWorld.open();
  one = await world.server(SELDOM);
  two = await world.server(SELDOM);
});
afterAll(() => world.close());

/** The feeds that a token lists, and their tails. */
async function listed(server: LiveServer, secret: string): Promise<Map<string, number>> {
  const headers = { authorization: `Bearer ${secret}` };
  const { feeds } = (await server.app.inject({ url: '/v1/sync/feeds', headers })).json();
  return new Map(feeds.map(({ feed, tail }: { feed: string; tail: number }) => [feed, tail]));
}

describe('a stream', () => {
  it('[L1] says first where each feed ends, then of every commit of whichever process where its feed ends', async () => {
    const { secret } = await world.token('coordinator');
    const readers = [await world.read(one, secret), await world.read(two, secret)];
    const feeds = await listed(one, secret);
    for (const reader of readers) {
      expect([reader.status, reader.headers['content-type']]).toEqual([200, 'text/event-stream; charset=utf-8']);
      await reader.until('all feeds', () => reader.tails.size === feeds.size);
      expect(reader.tails).toEqual(feeds);
    }
    for (const server of [one, two, one]) {
      const tail = await world.write(await world.writer(server.lane));
      await Promise.all(readers.map((reader) => reader.untilTail(world.feed, tail)));
    }
  });

  it('[L1] goes on where it was left: whoever comes back is told where each feed is by now', async () => {
    const { secret } = await world.token('dashboard');
    const reader = await world.read(one, secret);
    const before = await world.tail();
    await reader.untilTail(world.feed, before);
    reader.cut();
    const tail = await world.write(await world.writer(two.lane));
    expect(tail).toBeGreaterThan(before);
    const again = await world.read(one, secret);
    await again.untilTail(world.feed, tail);
    expect(again.events.filter(({ data }) => data.includes(world.feed))).toHaveLength(1);
  });

  it('[L2] carries the names of feeds and their tails and nothing else, with the headers of every other answer', async () => {
    const { secret } = await world.token('crew', world.firm.ids.phone);
    const reader = await world.read(one, secret);
    await reader.untilTail(world.feed, await world.write(await world.writer(one.lane)));
    expect(reader.text).toMatch(
      /^retry: [1-5]\d{3}\n\n(event: tail\ndata: \{"feed":"[a-z]+(:[0-9a-f-]{36})?","tail":\d+\}\n\n)+$/,
    );
    const { headers } = reader;
    expect([headers['cache-control'], headers['x-accel-buffering']]).toEqual(['no-store', 'no']);
    expect([headers['x-content-type-options'], typeof headers['x-request-id']]).toEqual(['nosniff', 'string']);
    expect(headers['retry-after']).toBeUndefined();
  });

  it('[L2] follows the feeds that are named, and no other', async () => {
    const { secret } = await world.token('coordinator');
    const reader = await world.read(one, secret, `?feeds=${world.feed},site:${world.firm.ids.site}`);
    const writer = await world.writer(one.lane);
    await writer.push({ kind: 'crew', set: { name: 'Another crew' } });
    await reader.untilTail(world.feed, await world.write(writer));
    expect([...reader.tails.keys()].sort()).toEqual([world.feed, `site:${world.firm.ids.site}`].sort());
  });

  it('[L2] tells a crew of its own feeds alone, and nobody of those of another firm', async () => {
    const strangers = new TestFirm(world.db.pool);
    await strangers.setUp();
    const { secret } = await world.token('crew', strangers.ids.phone, strangers);
    const reader = await world.read(one, secret);
    const crew = await world.token('crew', world.firm.ids.phone);
    const own = await world.read(one, crew.secret);
    const office = await world.read(one, (await world.token('admin')).secret);
    const other = v7();
    const { site } = world.firm.ids;
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const set = { site, name: 'Autumn round', starts: '2026-10-04', ends: '2026-10-05', standing: 'open', plan };
    await (await world.writer(one.lane)).push({ kind: 'event', id: other, set });
    const tail = await world.write(await world.writer(one.lane));
    await Promise.all([own.untilTail(world.feed, tail), office.untilTail(world.feed, tail)]);
    expect([...own.tails.keys()].sort()).toEqual([...(await listed(one, crew.secret)).keys()].sort());
    expect(own.tails.has(`event:${other}`)).toBe(false);
    await reader.untilTail('firm', (await listed(one, secret)).get('firm') ?? 0);
    expect(reader.text).not.toContain(world.firm.ids.event);
    for (const feed of [`event:${other}`, `event:${strangers.ids.event}`, `event:${randomUUID()}`, 'everything', '']) {
      const refused = await LiveReader.open(one.url, crew.secret, `?feeds=firm,${feed}`);
      expect([feed, refused.status]).toEqual([feed, feed === '' ? 200 : 404]);
      refused.cut();
    }
  });

  it('is refused in words: without a token, without Accept, with a parameter of another form', async () => {
    const { secret } = await world.token('crew', world.firm.ids.phone);
    const wrong: readonly (readonly [number, string, LiveReader])[] = [
      [401, 'unauthenticated', await LiveReader.open(one.url, 'wrt_of_nobody')],
      [406, 'not_acceptable', await LiveReader.open(one.url, secret, '', '*/*')],
      [400, 'bad_request', await LiveReader.open(one.url, secret, '?client=me')],
      [400, 'bad_request', await LiveReader.open(one.url, secret, '?since=1')],
    ];
    for (const [status, code, reader] of wrong) {
      await reader.untilClosed();
      expect([reader.status, JSON.parse(reader.text).code]).toEqual([status, code]);
    }
    const headers = { authorization: `Bearer ${secret}`, accept: 'text/event-stream' };
    expect((await one.app.inject({ method: 'HEAD', url: '/v1/sync/stream', headers })).statusCode).toBe(404);
  });
});

describe('how many streams there may be', () => {
  it('[L6] is limited by token and by process, with a refusal that names the limit; the next place is free at once', async () => {
    const server = await world.server({ ...SELDOM, streams: 3, streamsPerToken: 2 });
    const [ann, bob] = [await world.token('admin'), await world.token('admin')];
    const first = await world.read(server, ann.secret);
    await world.read(server, ann.secret);
    const third = await LiveReader.open(server.url, ann.secret);
    await third.untilClosed();
    expect([third.status, JSON.parse(third.text)]).toMatchObject([429, { code: 'too_many', limit: 'streamsPerToken' }]);
    await world.read(server, bob.secret);
    const fourth = await LiveReader.open(server.url, bob.secret);
    await fourth.untilClosed();
    expect([fourth.status, JSON.parse(fourth.text)]).toMatchObject([503, { code: 'busy', limit: 'streams' }]);
    expect(Number(fourth.headers['retry-after'])).toBeGreaterThan(0);
    first.cut();
    await expect.poll(async () => (await world.read(server, bob.secret)).status, { timeout: 5_000 }).toBe(200);
  });

  it('[L6] is one a client: where a phone comes back, its older stream ends, which may be dead already', async () => {
    const server = await world.server({ ...SELDOM, streamsPerToken: 1 });
    const { secret } = await world.token('crew', world.firm.ids.phone);
    const query = `?client=${v7()}`;
    const first = await world.read(server, secret, query);
    const second = await world.read(server, secret, query);
    await first.untilClosed();
    expect([first.reason, second.status]).toEqual(['replaced', 200]);
    await second.untilTail(world.feed, await world.write(await world.writer(server.lane)));
  });

  it('[L6] takes nothing from the requests that may be in work', async () => {
    const server = await world.server({ ...SELDOM, streamsPerToken: 1_000 });
    const { secret } = await world.token('dashboard');
    const readers = await Promise.all(Array.from({ length: 300 }, () => world.read(server, secret, '?feeds=firm')));
    const refused = readers.filter(({ status }) => status !== 200).length;
    // those that begin together are work while they begin
    expect(refused).toBeLessThan(300 - 200);
    const more = await Promise.all(
      Array.from({ length: refused + 60 }, () => world.read(server, secret, '?feeds=firm')),
    );
    expect(more.filter(({ status }) => status === 200)).toHaveLength(more.length);
    const headers = { authorization: `Bearer ${secret}` };
    expect((await server.app.inject({ url: '/v1/sync/feeds', headers })).statusCode).toBe(200);
  });
});

describe('the end of a process', () => {
  it('[L7] ends its streams with a reason, lets nobody in, and leaves no connection behind', async () => {
    const server = await world.server(SELDOM);
    const { secret } = await world.token('coordinator');
    const listening = async () => (await world.listening()).length;
    const others = await listening();
    const reader = await world.read(server, secret);
    await expect.poll(listening, { timeout: 5_000 }).toBe(others + 1);
    const begunMs = performance.now();
    await server.close();
    await reader.untilClosed();
    expect([reader.reason, performance.now() - begunMs < 3_000]).toEqual(['closing', true]);
    await expect.poll(listening, { timeout: 5_000 }).toBe(others);
  });
});
