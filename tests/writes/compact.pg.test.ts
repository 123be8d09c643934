import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { feedPage } from '../../src/reads/feed-page.ts';
import type { Reader } from '../../src/reads/reader.ts';
import type { Answer } from '../../src/writes/batch.ts';
import { compact } from '../../src/writes/compact.ts';
import { openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { Chance } from '../sim/chance.ts';
import { Follower, feedSource } from '../support/feed-follower.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts } from '../support/visit-drafts.ts';

const DAY_MS = 86_400_000;
const REASON = 'recorded in the wrong round';

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

interface World {
  readonly firm: TestFirm;
  readonly admin: TestClient;
  readonly reader: Reader;
  /** Two events. */
  readonly events: readonly [string, string];
  readonly feeds: readonly [string, string];
}

async function open(database = db): Promise<World> {
  const firm = new TestFirm(database.pool);
  const admin = await firm.setUp();
  const later = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site: firm.ids.site, name: 'Later', starts: '2026-06-01', ends: '2026-06-02', standing: 'open', plan };
  await admin.push({ kind: 'event', id: later, set });
  const reader = { firm: firm.id, token: randomUUID(), role: 'coordinator' as const, device: null };
  const events = [firm.ids.event, later] as const;
  return { firm, admin, reader, events, feeds: [`event:${events[0]}`, `event:${events[1]}`] };
}

function follower({ reader }: World, feed: string, limit = 4): Follower {
  return new Follower(feedSource(db.pool, reader, feed, limit));
}

/** Compacts with a retention of a day, as if it were so many days later. */
function compactAfter({ firm }: World, days: number) {
  const now = new Date(firm.nowMs + days * DAY_MS);
  return compact(db.pool, firm.id, { before: new Date(now.getTime() - DAY_MS), now: () => now });
}

async function gone({ firm }: World): Promise<number> {
  const { rows } = await db.bypass.query<{ n: number }>(
    'select count(*)::int as n from head where firm = $1 and gone',
    [firm.id],
  );
  return rows[0]?.n ?? 0;
}

async function reasonOf({ reader }: World, feed: string, cursor: string | null): Promise<unknown> {
  const asked = feedPage(db.pool, reader, { feed, cursor, limit: 9, client: null });
  const error = (await asked.catch((thrown: unknown) => thrown)) as { code?: string; members?: { reason?: string } };
  expect(error).toMatchObject({ code: 'reset_required', status: 410 });
  return error.members?.reason;
}

async function visitIn(world: World): Promise<string> {
  const crew = await world.firm.client('crew', world.firm.ids.phone);
  const { ids, drafts } = purgeDrafts(world.firm);
  await crew.push(...drafts);
  return ids.visit;
}

async function moveTo({ admin }: World, visit: string, event: string, rev: number): Promise<void> {
  const rehome = { verb: 'rehome', kind: 'visit', id: visit, base: { rev }, set: { event }, reason: REASON };
  const [outcome] = await admin.push(rehome);
  expect(outcome?.outcome).toBe('applied');
}

describe('what left a feed long ago', () => {
  it('[F11] is told no more, and nothing else is dropped: the ledger is whole, and verified whole', async () => {
    const world = await open();
    const [here, there] = world.feeds;
    const visit = await visitIn(world);
    await moveTo(world, visit, world.events[1], 1);
    const rows = async (table: string) =>
      (
        await db.bypass.query(
          `select * from ${table} where firm = $1 ${table === 'head' ? 'and not gone' : ''} order by feed, seq`,
          [world.firm.id],
        )
      ).rows;
    const [ledger, live] = [await rows('ledger'), await rows('head')];
    const before = await gone(world);
    expect(before).toBeGreaterThan(5);
    // not a day old yet
    expect(await compactAfter(world, 0.9)).toEqual({ rows: 0, feeds: 0 });
    expect(await compactAfter(world, 1.1)).toEqual({ rows: before, feeds: 1 });
    expect(await gone(world)).toBe(0);
    expect(await rows('ledger')).toEqual(ledger);
    expect(await rows('head')).toEqual(live);
    const { rows: floors } = await db.bypass.query('select feed, floor from feed_floor where firm = $1', [
      world.firm.id,
    ]);
    const newest = ledger.filter(({ feed, state }) => feed === here && state === null).at(-1);
    expect(floors).toEqual([{ feed: here, floor: newest?.seq }]);
    expect(await recompute(db.pool, world.firm.id)).toEqual([]);
    expect(await compactAfter(world, 9)).toEqual({ rows: 0, feeds: 0 });
    const fresh = follower(world, there);
    await fresh.catchUp();
    expect(fresh.disagreements()).toEqual([]);
  });

  it('[F11] goes in steps, each of which leaves feeds that can be read', async () => {
    const world = await open();
    const [here] = world.feeds;
    const suites = Array.from({ length: 1_200 }, (_, at) => v7({ msecs: world.firm.nowMs + at }));
    // straight into the tables: so many records that left a feed are the work of years
    const text = `insert into ledger select $1, $2, t.seq + n, gen_random_uuid(), 'call', 1, null, null, null, null, $3,
  t.live_count, t.content_hash, t.history_hash
from (select * from ledger where firm = $1 and feed = $2 order by seq desc limit 1) t, generate_series(1, $4::int) as n`;
    await db.bypass.query(text, [world.firm.id, here, new Date(world.firm.nowMs).toISOString(), suites.length]);
    await db.bypass.query(
      `insert into head select firm, feed, record, kind, seq, rev, true from ledger where firm = $1 and feed = $2 and state is null`,
      [world.firm.id, here],
    );
    const began = follower(world, here);
    await began.catchUp();
    expect(await compactAfter(world, 2)).toEqual({ rows: 1_200, feeds: 1 });
    expect(await gone(world)).toBe(0);
    expect(began.disagreements()).toEqual([]);
  });

  it('[F12] is missed by nobody: who did not hear of it begins anew, and who did reads on', async () => {
    const world = await open();
    const [here] = world.feeds;
    const visit = await visitIn(world);
    const [old, current] = [follower(world, here), follower(world, here)];
    await old.catchUp();
    await moveTo(world, visit, world.events[1], 1);
    await current.catchUp();
    expect(await compactAfter(world, 2)).toMatchObject({ feeds: 1 });
    expect(await reasonOf(world, here, old.cursor)).toBe('below_floor');
    await visitIn(world);
    await current.catchUp();
    expect(current.disagreements()).toEqual([]);
    const anew = follower(world, here);
    await anew.catchUp();
    expect(anew.disagreements()).toEqual([]);
    expect(anew.live()).toHaveLength(current.live().length);
  });

  it('[F12] [F2] hinders no beginning in several pages, though its first cursors lie below the floor', async () => {
    const world = await open();
    const [here] = world.feeds;
    const [first, second] = [await visitIn(world), await visitIn(world)];
    await moveTo(world, first, world.events[1], 1);
    await compactAfter(world, 2);
    const one = follower(world, here, 2);
    // page by page by hand: between two of them a visit goes that was read already, and is not told of any more
    const source = one.source;
    const page = await source(null);
    for (const row of page.rows) one.rows.set(row.id, row);
    one.cursor = page.cursor;
    await one.catchUp();
    expect(one.pages).toBeGreaterThan(3);
    expect(one.disagreements()).toEqual([]);
    expect([...one.rows.values()].some(({ content }) => content === null)).toBe(false);
    const cut = await source(null);
    await moveTo(world, second, world.events[1], 1);
    await compactAfter(world, 2);
    expect(await reasonOf(world, here, cut.cursor)).toBe('below_floor');
  });

  it('[F12] is still told to a reader who began before it went, until it is dropped', async () => {
    const world = await open();
    const [here] = world.feeds;
    const visit = await visitIn(world);
    const one = follower(world, here, 2);
    for (let left = 4; left > 0; left--) {
      const page = await one.source(one.cursor);
      for (const row of page.rows) one.rows.set(row.id, row);
      one.cursor = page.cursor;
    }
    await moveTo(world, visit, world.events[1], 1);
    await one.catchUp();
    expect([...one.rows.values()].some(({ content }) => content === null)).toBe(true);
    expect(one.disagreements()).toEqual([]);
  });
});

/** What a random person does next; what it names may have moved, been voided or withdrawn long since. */
class Someone {
  readonly #chance: Chance;
  readonly #world: World;
  readonly #records: { readonly kind: string; readonly id: string; rev: number }[] = [];
  readonly #clients = [randomUUID(), randomUUID(), randomUUID()] as const;
  readonly #next = [1, 1, 1];
  #values = 0;

  constructor(chance: Chance, world: World) {
    this.#chance = chance;
    this.#world = world;
  }

  /** A batch of one of three clients. */
  next(): { readonly client: string; readonly first: number; readonly lines: string[] } {
    const who = this.#chance.below(3);
    const first = this.#next[who] ?? 1;
    const drafts = this.#drafts();
    this.#next[who] = first + drafts.length;
    const lines = drafts.map(({ verb = 'record', id = v7(), ...rest }, at) =>
      JSON.stringify({ mutationId: first + at, verb, id, ...rest }),
    );
    return { client: this.#clients[who] ?? '', first, lines };
  }

  #known(...kinds: string[]) {
    return this.#chance.maybe(this.#records.filter(({ kind }) => kinds.includes(kind)));
  }

  #note(drafts: Draft[]): Draft[] {
    for (const { kind, id } of drafts) if (id !== undefined) this.#records.push({ kind, id, rev: 1 });
    return drafts;
  }

  #drafts(): Draft[] {
    const { firm, events } = this.#world;
    const value = `value ${++this.#values}`;
    const figure = `7.${String(this.#values).padStart(3, '0')}`;
    const visit = this.#known('visit');
    const what = visit ? this.#chance.below(8) : 0;
    const base = { rev: this.#chance.between(1, 4) };
    if (!visit || what === 0) return this.#note(purgeDrafts(firm).drafts.map((draft) => ({ ...draft })));
    const { id } = visit;
    if (what <= 3) {
      const set = this.#chance.yes(0.7)
        ? { event: this.#chance.pick(events) }
        : { well: this.#chance.pick([firm.ids.lone, firm.ids.deep]) };
      return [{ verb: 'rehome', kind: 'visit', id, base: { rev: ++visit.rev - 1 }, set, reason: REASON }];
    }
    const other = this.#known('reading', 'purge', 'visit') ?? visit;
    if (what === 4) return [{ verb: 'void', kind: other.kind, id: other.id, base, reason: value }];
    if (what === 5) {
      const purge = this.#known('purge')?.id ?? v7();
      const set = { purge, ph: figure, observed: firm.observed(minute(this.#chance.below(50))) };
      return this.#note([{ kind: 'reading', id: v7(), set }]);
    }
    const set = other.kind === 'reading' ? { ph: figure } : { remark: value };
    return [{ verb: 'amend', kind: other.kind, id: other.id, base, set, reason: 'misread' }];
  }
}

async function liveOf(database: TestDatabase, firm: string): Promise<string[]> {
  const { rows } = await database.bypass.query<{ row: string }>(
    `select concat_ws(' ', h.feed, h.id, h.seq, h.rev, encode(h.row_hash, 'hex'), l.state::text, h.merge::text) as row
from head h join ledger l using (firm, feed, seq) where h.firm = $1 and not h.gone order by h.feed, h.seq`,
    [firm],
  );
  return rows.map(({ row }) => row);
}

async function historyOf(database: TestDatabase, firm: string): Promise<string[]> {
  const { rows } = await database.bypass.query<{ row: string }>(
    `select concat_ws(' ', feed, seq, rev, live_count, encode(content_hash, 'hex'), encode(history_hash, 'hex')) as row
from ledger where firm = $1 order by feed, seq`,
    [firm],
  );
  return rows.map(({ row }) => row);
}

describe('a server that drops what is gone at random moments, beside one that never does', () => {
  it.each([1, 2, 3])(
    '[F13] answers, numbers and hashes the same, whatever is sent to both (seed %i)',
    async (seed) => {
      const own = await testDatabase();
      const world = await open(own);
      const actor = await world.firm.actor('coordinator', null, world.firm.ids.ann);
      const twin = await own.copy();
      const now = () => new Date(world.firm.nowMs);
      const lanes = [own, twin].map(({ pool }) => openLane({ pool, now, committed: () => undefined }));
      const chance = new Chance(seed);
      const someone = new Someone(chance, world);
      let dropped = 0;
      try {
        for (let turn = 0; turn < 90; turn++) {
          world.firm.nowMs += 60_000;
          const { client, first, lines } = someone.next();
          const [plain, compacting] = await Promise.all(
            lanes.map((lane): Promise<Answer> => lane(batchOf(actor, client, first, lines))),
          );
          expect(compacting).toEqual(plain);
          if (!chance.yes(0.3)) continue;
          const before = new Date(world.firm.nowMs + chance.pick([1, -180_000]));
          dropped += (await compact(twin.pool, world.firm.id, { before, now })).rows;
        }
        expect(dropped).toBeGreaterThan(30);
        expect(await liveOf(twin, world.firm.id)).toEqual(await liveOf(own, world.firm.id));
        expect(await historyOf(twin, world.firm.id)).toEqual(await historyOf(own, world.firm.id));
        expect(await recompute(twin.pool, world.firm.id)).toEqual([]);
      } finally {
        await twin.drop();
        await own.drop();
      }
    },
    120_000,
  );
});
