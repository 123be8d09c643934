import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cutProxy } from '../support/cut-proxy.ts';
import type { LiveReader } from '../support/live-reader.ts';
import { type LiveServer, LiveWorld, liveServer } from '../support/live-world.ts';

const SELDOM = { lookEveryMs: 3_600_000, believedMs: 3_600_000 };
/** The longest that anyone may go on hearing after losing the right to. */
const MOST_MS = 5_000;

let world: LiveWorld;
/** Processes that hear by doorbell alone, and look only when they have to. */
let one: LiveServer;
let two: LiveServer;
/** A process as it is started in earnest, and one that looks more often, so that a test need not wait for it. */
let ordinary: LiveServer;
let lively: LiveServer;

beforeAll(async () => {
  world = await LiveWorld.open();
  [one, two] = [await world.server(SELDOM), await world.server(SELDOM)];
  [ordinary, lively] = [await world.server(), await world.server({ lookEveryMs: 200 })];
});
afterAll(() => world.close());

async function reading(server: LiveServer): Promise<LiveReader> {
  const reader = await world.read(server, (await world.token('coordinator')).secret);
  await reader.untilTail(world.feed, await world.tail());
  return reader;
}

/** Cuts the connections that listen; whatever is rung from now until they are back is heard by nobody. */
async function killListeners(): Promise<void> {
  for (const pid of await world.listening()) await world.db.pool.query('select pg_terminate_backend($1)', [pid]);
}

describe('the connection that hears of news', () => {
  it('[L3] is killed, and what was committed meanwhile is told when it is back, without another write', async () => {
    const readers = [await reading(one), await reading(two)];
    await expect.poll(() => world.looked()).toBe(2);
    const before = await world.listening();
    // nobody rings for it, so that only the look of a connection that came back can have told
    const silent = await world.writer();
    for (let time = 0; time < 3; time++) {
      await killListeners();
      const tail = await world.write(silent);
      await Promise.all(readers.map((reader) => reader.untilTail(world.feed, tail)));
    }
    expect((await world.listening()).filter((pid) => before.includes(pid))).toEqual([]);
    const tail = await world.write(await world.writer(one.lane));
    await Promise.all(readers.map((reader) => reader.untilTail(world.feed, tail)));
  });

  it('[L3] is the only one that a process has, however many streams it serves', async () => {
    await Promise.all(Array.from({ length: 5 }, () => reading(one)));
    await reading(two);
    await reading(ordinary);
    await expect.poll(async () => (await world.listening()).length).toBe(3);
    await Promise.all(Array.from({ length: 5 }, () => reading(ordinary)));
    expect(await world.listening()).toHaveLength(3);
  });

  it('[L3] is cut together with all others of its process, again and again, under writes: all is told in the end', async () => {
    const proxy = await cutProxy(world.db.config);
    const server = await liveServer({ config: proxy.config, nowMs: () => world.firm.nowMs, streams: SELDOM });
    const reader = await reading(server);
    const writer = await world.writer(one.lane);
    for (let time = 0; time < 4; time++) {
      proxy.cutAll();
      await world.write(writer);
    }
    await reader.untilTail(world.feed, await world.tail());
    expect(reader.closed).toBe(false);
    reader.cut();
    await server.close();
    await proxy.close();
  });
});

describe('a doorbell', () => {
  it('[L3] that was not rung, since its process ended between commit and doorbell, is made up for by a look', async () => {
    const reader = await reading(lively);
    await reader.untilTail(world.feed, await world.write(await world.writer()));
  });

  it('[L3] that nobody understands makes everyone look', async () => {
    const reader = await reading(one);
    const tail = await world.write(await world.writer());
    await world.db.pool.query(`select pg_notify('wellround_live', 'what is this?')`);
    await reader.untilTail(world.feed, tail);
  });

  it('[L3] that lies, ahead or of what is not there, sends nobody astray for longer than until the next look', async () => {
    const reader = await reading(lively);
    const tail = await world.tail();
    const lie = JSON.stringify({ firm: world.firm.id, tails: { [world.feed]: tail + 1_000, 'event:nowhere': 1 } });
    await world.db.pool.query('select pg_notify($1, $2)', ['wellround_live', lie]);
    await reader.untilTail(world.feed, tail + 1_000);
    await reader.untilTail(world.feed, tail);
    expect(reader.tails.has('event:nowhere')).toBe(false);
  });

  it('[L3] is rung also where the answer to a COMMIT was lost', async () => {
    const proxy = await cutProxy(world.db.config);
    const server = await liveServer({ config: proxy.config, nowMs: () => world.firm.nowMs, streams: SELDOM });
    const reader = await reading(one);
    proxy.arm('after-commit', 1);
    const tail = await world.write(await world.writer(server.lane));
    expect(proxy.cuts()).toBe(1);
    await reader.untilTail(world.feed, tail);
    await server.close();
    await proxy.close();
  });

  it('[L1] is heard by all, and the last tail is told, however many commits come at once through all processes', async () => {
    const readers = [await reading(one), await reading(two)];
    const writers = await Promise.all([one, two, one, two].map((server) => world.writer(server.lane)));
    await Promise.all(
      writers.map(async (writer) => {
        for (let time = 0; time < 15; time++) await world.write(writer);
      }),
    );
    const tail = await world.tail();
    await Promise.all(readers.map((reader) => reader.untilTail(world.feed, tail)));
    const told = readers.map((reader) => reader.events.filter(({ data }) => data.includes(world.feed)).length);
    // several commits are one event where they come faster than can be told
    for (const count of told) expect(count).toBeLessThan(62);
  });
});

describe('a right that is lost', () => {
  it('[L4] ends the streams of a token that is revoked within five seconds on every process, and of no other', async () => {
    const lost = await world.token('crew', world.firm.ids.phone);
    const kept = await world.token('crew', world.firm.ids.phone);
    const third = await world.server();
    const readers = [await world.read(ordinary, lost.secret), await world.read(third, lost.secret)];
    const others = [await world.read(ordinary, kept.secret), await world.read(third, kept.secret)];
    const begunMs = performance.now();
    await world.revoke(lost.id);
    await Promise.all(readers.map((reader) => reader.untilClosed(MOST_MS)));
    expect(performance.now() - begunMs).toBeLessThan(MOST_MS);
    expect(readers.map(({ reason }) => reason)).toEqual(['revoked', 'revoked']);
    const tail = await world.write(await world.writer(ordinary.lane));
    await Promise.all(others.map((reader) => reader.untilTail(world.feed, tail)));
    expect(readers.filter(({ tails }) => tails.get(world.feed) === tail)).toEqual([]);
    expect((await world.read(third, lost.secret)).status).toBe(401);
  });

  it('[L4] ends the streams of a token when its time is over', async () => {
    const { firm } = world;
    const soon = new Date(firm.nowMs + 3_600_000).toISOString();
    const short = await world.read(lively, (await world.token('dashboard', null, firm, soon)).secret);
    const long = await world.read(lively, (await world.token('dashboard')).secret);
    await short.untilTail(world.feed, await world.tail());
    firm.nowMs += 3_600_001;
    await short.untilClosed(MOST_MS);
    expect([short.reason, long.closed]).toEqual(['revoked', false]);
  });

  it('[L4] ends the streams of a crew whose assignment is taken back, which may come again for what is left', async () => {
    const { ids } = world.firm;
    const admin = await world.writer(lively.lane);
    const { secret } = await world.token('crew', ids.otherPhone);
    const [other, own] = [
      await world.read(lively, (await world.token('crew', ids.phone)).secret),
      await world.read(lively, secret),
    ];
    await own.untilTail(world.feed, await world.tail());
    const { rows } = await world.db.bypass.query<{ id: string }>(
      'select id from assignment where firm = $1 and crew = $2 and not voided',
      [world.firm.id, ids.south],
    );
    for (const { id } of rows)
      await admin.push({ verb: 'void', kind: 'assignment', id, base: { rev: 1 }, reason: 'elsewhere' });
    await own.untilClosed(MOST_MS);
    expect([own.reason, other.closed]).toEqual(['rights', false]);
    const again = await world.read(lively, secret);
    await again.until('the firm', () => again.tails.has('firm'));
    expect(again.tails.has(world.feed)).toBe(false);
    // and is told of what it may follow from now on
    await admin.push({ kind: 'assignment', set: { event: ids.event, crew: ids.south, well: ids.shallow } });
    await again.untilTail(world.feed, await world.tail(), MOST_MS);
  });

  it('[L4] is noticed when the database answers again, and until then nothing is told', async () => {
    const lost = await world.token('crew', world.firm.ids.phone);
    const reader = await world.read(one, lost.secret);
    await reader.untilTail(world.feed, await world.tail());
    await world.revoke(lost.id);
    await killListeners();
    await reader.untilClosed(MOST_MS);
    expect(reader.reason).toBe('revoked');
  });
});
