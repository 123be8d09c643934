import { setTimeout as sleep } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { type Between, faultyPool, pausesAndRollbacks, seeded } from '../support/faulty-pool.ts';
import { type Delivered, Follower, feedSource } from '../support/feed-follower.ts';
import { historyFaults } from '../support/history-check.ts';
import { alsoNaive, naiveSource, naiveTable, naiveTruth } from '../support/naive-feed.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';
import { FeedWriter, type Shared } from './feed-writer.ts';

const WRITERS = 16;
const FIRMS = 3;
const PROCESSES = 4;
const PUSHES = process.env.LONG ? 200 : 10;
const SEED = Number(process.env.SEED ?? 20260504);

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase({ poolSize: 32 });
  await naiveTable(await db.owner());
});
afterAll(() => db.drop());

async function makeFirm(): Promise<{ firm: TestFirm; shared: Shared }> {
  const firm = new TestFirm(db.pool);
  const admin = await firm.setUp();
  const second = v7();
  const plan = { criteria: 'usgs-nfm-a4-2006' };
  const days = { starts: '2026-06-01', ends: '2026-06-02', standing: 'open' };
  const set = {
    site: firm.ids.site,
    name: 'Second round',
    ...days,
    plan: { ...plan, criteria: 'epa-region-1-low-stress-rev-4' },
  };
  await admin.push({ kind: 'event', id: second, set });
  const { event, lone, shallow, deep } = firm.ids;
  const shared = { events: [event, second], wells: [lone, shallow, deep], visits: [], purges: [], readings: [] };
  return { firm, shared };
}

async function truthOf(firm: string, feed: string): Promise<Delivered[]> {
  const { rows } = await db.bypass.query<{ id: string; seq: number; state: string }>(
    `select h.id, h.seq, l.state::text as state from head h
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq where h.firm = $1 and h.feed = $2 and not h.gone`,
    [firm, feed],
  );
  return rows.map((row) => ({ id: row.id, version: row.seq, content: row.state }));
}

async function followWhile(followers: readonly Follower[], writing: Promise<unknown>): Promise<void> {
  let done = false;
  const stop = () => {
    done = true;
  };
  writing.then(stop, stop);
  while (!done) {
    for (const follower of followers) await follower.catchUp();
    await sleep(5);
  }
  await writing;
  for (const follower of followers) await follower.catchUp();
}

describe(`${WRITERS} writers of ${FIRMS} firms in ${PROCESSES} processes, with pauses and rollbacks`, () => {
  it('[F3] [F4] [F5] [D1] a reader misses no row, the sums agree, the history verifies, and what is derived follows from the ledger', async () => {
    const random = seeded(SEED);
    let rollbacks = 0;
    const thrown = () => {
      rollbacks += 1;
    };
    const between: Between = alsoNaive(pausesAndRollbacks(random, 4, thrown));
    const pool = faultyPool(db.pool, between);
    const firms = await Promise.all(Array.from({ length: FIRMS }, makeFirm));
    const lanes = Array.from({ length: PROCESSES }, () =>
      openLane({ pool, now: () => new Date(firms[0]?.firm.nowMs ?? 0), committed: () => undefined }),
    );
    const writers = await Promise.all(
      Array.from({ length: WRITERS }, async (_, at) => {
        const { firm, shared } = firms[at % FIRMS] ?? (await makeFirm());
        const client = await firm.client('coordinator', at % 2 ? firm.ids.phone : firm.ids.otherPhone);
        return new FeedWriter(firm, shared, client, lanes[at % PROCESSES] ?? firm.lane, seeded(SEED + at));
      }),
    );
    const follow = firms.map(({ firm, shared }) => {
      const reader = { firm: firm.id, token: v7(), role: 'coordinator' as const, device: null };
      const feeds = ['firm', `site:${firm.ids.site}`, ...shared.events.map((event) => `event:${event}`)];
      return feeds.map((feed, at) => {
        const follower = new Follower(feedSource(db.pool, reader, feed, [7, 50, 1_000][at % 3] ?? 7));
        return { firm: firm.id, feed, follower };
      });
    });
    const naive = new Follower(naiveSource(db.bypass, 100));
    let missed = 0;
    // how many rows the naive reader misses is chance; that it misses some is not
    for (let round = 0; round < 20 && missed === 0; round++) {
      const writing = Promise.all(writers.map((writer) => writer.write(PUSHES, 10)));
      const reading = follow.map((feeds) => feeds.map((one) => one.follower));
      await Promise.all([...reading, [naive]].map((followers) => followWhile(followers, writing)));
      missed = naive.missed(await naiveTruth(db.bypass)).length;
    }
    expect(missed).toBeGreaterThan(0);

    for (const { firm, feed, follower } of follow.flat()) {
      expect([feed, follower.disagreements()]).toEqual([feed, []]);
      expect([feed, follower.missed(await truthOf(firm, feed))]).toEqual([feed, []]);
    }
    const counts = await Promise.all(firms.map(({ firm }) => historyFaults(db.bypass, firm.id)));
    expect(counts.flatMap((count) => count.faults)).toEqual([]);
    for (const { firm } of firms) expect(await recompute(db.pool, firm.id)).toEqual([]);

    const outcomes = writers.flatMap((writer) => writer.outcomes);
    expect(rollbacks).toBeGreaterThan(0);
    expect(outcomes.filter((one) => one.outcome === 'conflict_kept').length).toBeGreaterThan(0);
    const waiting = `select count(*) from set_aside where standing = 'waiting'`;
    expect((await db.bypass.query(waiting)).rows).toEqual([{ count: 0 }]);
    if (process.env.LONG) {
      const rows = counts.reduce((sum, count) => sum + count.rows, 0);
      console.info({
        rows,
        mutations: outcomes.length,
        rollbacks,
        missedByNaive: missed,
        rowsOfNaive: naive.rows.size,
      });
    }
  }, 600_000);

  it('[F3] the same checker finds the one row that a reader above a sequence passes by', async () => {
    const [slow, fast] = await Promise.all([makeFirm(), makeFirm()]);
    const naive = new Follower(naiveSource(db.bypass, 100));
    await naive.catchUp();
    let open = (): void => undefined;
    const gate = new Promise<void>((resolve) => {
      open = resolve;
    });
    const now = () => new Date(slow.firm.nowMs);
    const held = openLane({
      pool: faultyPool(
        db.pool,
        alsoNaive((text) => (text === 'commit' ? gate : undefined)),
      ),
      now,
      committed: () => undefined,
    });
    const free = openLane({
      pool: faultyPool(
        db.pool,
        alsoNaive(() => undefined),
      ),
      now,
      committed: () => undefined,
    });
    const late = new FeedWriter(slow.firm, slow.shared, await slow.firm.client('crew'), held, seeded(1));
    const early = new FeedWriter(fast.firm, fast.shared, await fast.firm.client('crew'), free, seeded(2));
    const writing = late.write(1, 0);
    const text = 'select count(*) as n from pg_stat_activity where state = $1 and query like $2';
    const waits = async () => (await db.pool.query(text, ['idle in transaction', 'insert into naive%'])).rows[0].n;
    while ((await waits()) === 0) await sleep(5);
    await early.write(1, 0);
    await naive.catchUp();
    open();
    await writing;
    await naive.catchUp();
    expect(naive.missed(await naiveTruth(db.bypass)).length).toBeGreaterThan(0);
  });
});
