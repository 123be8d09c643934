import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Lane, openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { faultyPool } from '../support/faulty-pool.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, readingDraft, type VisitIds, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
});
afterAll(() => db.drop());

/** A door of a process of its own: what it remembers, no other knows. */
function door(pool = db.pool): Lane {
  return openLane({ pool, now: () => new Date(firm.nowMs), committed: () => undefined });
}

/** The same phone at another process. */
async function phoneAt(lane: Lane): Promise<TestClient> {
  const { actor } = await firm.client('crew', firm.ids.phone);
  return new TestClient(actor, lane);
}

async function begin(client: TestClient): Promise<VisitIds> {
  const { ids, drafts } = visitDrafts(firm);
  await client.push(...drafts);
  return ids;
}

/** The readings that the newest assessment of a purge was made from, and what it says of the pH. */
async function assessed(purge: string): Promise<{ latest: string; window: number }> {
  const { rows } = await db.bypass.query<{ state: { fields: { latestReadingAt: string; window: string[] } } }>(
    `select l.state from assessment a join head h on h.id = a.id and not h.gone
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq where a.purge = $1`,
    [purge],
  );
  const fields = rows[0]?.state.fields;
  return { latest: fields?.latestReadingAt ?? '', window: fields?.window.length ?? 0 };
}

/** The queries that read records, as a process sends them. */
function watched(): { lane: Lane; loads: () => number } {
  let count = 0;
  const pool = faultyPool(db.pool, (statement) => {
    if (statement.includes('h.row_hash, h.merge, l.state')) count += 1;
  });
  return { lane: door(pool), loads: () => count };
}

describe('what a process remembers', () => {
  it('spares it the visit that it wrote before', async () => {
    const { lane, loads } = watched();
    const client = await phoneAt(lane);
    const { purge } = await begin(client);
    await client.push(readingDraft(firm, purge, 5));
    const before = loads();
    await client.push(readingDraft(firm, purge, 10));
    // what is new has to be looked for: another device may have made it under the same id
    expect(loads() - before).toBe(1);
    await client.push(readingDraft(firm, purge, 15));
    expect(await assessed(purge)).toEqual({ latest: '2026-05-04T10:15:00.000Z', window: 3 });
  });

  it('[W6] is given up when another process has written into one of its feeds', async () => {
    const [here, there] = [await phoneAt(door()), await phoneAt(door())];
    const { visit, purge } = await begin(here);
    for (const at of [5, 10, 15, 20]) await (at % 10 === 0 ? there : here).push(readingDraft(firm, purge, at));
    expect(await assessed(purge)).toEqual({ latest: '2026-05-04T10:20:00.000Z', window: 3 });
    const moved: Draft = { verb: 'amend', kind: 'visit', id: visit, base: { rev: 1 }, set: { method: 'volume' } };
    await there.push({ ...moved, reason: 'was another' });
    const clash: Draft = { ...moved, set: { method: 'flowing' }, reason: 'was yet another' };
    const [outcome] = await here.push(clash);
    expect(outcome).toMatchObject({ outcome: 'conflict_kept', rev: 3 });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[W6] is given up as well when the other wrote a record that nobody here had seen', async () => {
    const [here, there] = [await phoneAt(door()), await phoneAt(door())];
    const unseen = await begin(there);
    const amend: Draft = {
      verb: 'amend',
      kind: 'visit',
      id: unseen.visit,
      base: { rev: 1 },
      set: { method: 'volume' },
    };
    await here.push({ ...amend, reason: 'was another' });
    const [outcome] = await there.push({ ...amend, set: { method: 'passive' }, reason: 'was yet another' });
    expect(outcome).toMatchObject({ outcome: 'conflict_kept', rev: 3 });
    const [again] = await here.push(readingDraft(firm, unseen.purge, 5));
    expect(again).toMatchObject({ outcome: 'applied' });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[W1] holds nothing of a transaction that came to nothing', async () => {
    let fail = false;
    const pool = faultyPool(db.pool, (statement) => {
      if (fail && statement === 'commit') throw new Error('a fault that the test threw before the commit');
    });
    const client = await phoneAt(door(pool));
    const { purge } = await begin(client);
    const first = client.next;
    const lines = [5, 10, 15].map((at) => client.line(readingDraft(firm, purge, at)));
    fail = true;
    await expect(client.answer(lines, first)).rejects.toThrow('a fault');
    fail = false;
    const outcomes = client.outcomes(await client.answer(lines, first));
    expect(outcomes.map(({ outcome, rev }) => [outcome, rev])).toEqual([1, 2, 3].map(() => ['applied', 1]));
    expect(await assessed(purge)).toEqual({ latest: '2026-05-04T10:15:00.000Z', window: 3 });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[W1] holds nothing that a transaction which came to nothing had written and read back', async () => {
    let fail = false;
    const pool = faultyPool(db.pool, (statement) => {
      if (fail && statement === 'commit') throw new Error('a fault that the test threw before the commit');
    });
    const lane = door(pool);
    const { purge } = await begin(await phoneAt(lane));
    const office = new TestClient((await firm.client('coordinator', null)).actor, lane);
    await office.push(readingDraft(firm, purge, 5, { ph: '17.2' }));
    const { rows } = await db.bypass.query<{ flag: string; evidenceHash: string }>(
      `select h.id as flag, l.state->'fields'->>'evidenceHash' as "evidenceHash"
from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.kind = 'flag' and not h.gone and h.parent = $1 and l.state->'fields'->>'rule' = 'value-not-believable'`,
      [purge],
    );
    const review = { ...rows[0], decision: 'no-action', observed: firm.observed(minute(60)) };
    // so many that they are sent while the rest is worked out
    const many = Array.from({ length: 120 }, (_, at) => readingDraft(firm, purge, 10 + at));
    const first = office.next;
    const lines = [{ kind: 'flag-review', set: review }, ...many].map((draft) => office.line(draft));
    fail = true;
    await expect(office.answer(lines, first)).rejects.toThrow('a fault');
    fail = false;
    const outcomes = office.outcomes(await office.answer(lines, first));
    expect(new Set(outcomes.map(({ outcome, rev }) => `${outcome} ${rev}`))).toEqual(new Set(['applied 1']));
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('is given up when the history it ends with is not the one of the database any more', async () => {
    const client = await phoneAt(door());
    const { visit, purge } = await begin(client);
    const [reading] = await client.push(readingDraft(firm, purge, 5));
    const owner = await db.owner();
    await owner.query(`select set_config('wellround.firm', $1, false)`, [firm.id]);
    const feed = `event:${firm.ids.event}`;
    // the database is set back to before the reading, and goes on otherwise, as far as it had been
    await owner.query('alter table ledger disable trigger user');
    await owner.query(`update ledger set history_hash = sha256(history_hash) where feed = $1`, [feed]);
    await owner.query('delete from head where feed = $1 and id = $2', [feed, reading?.id]);
    await owner.query('alter table ledger enable trigger user');
    const [again] = await client.push({
      verb: 'void',
      kind: 'reading',
      id: reading?.id ?? '',
      base: { rev: 1 },
      reason: 'x',
    });
    expect(again).toMatchObject({ outcome: 'set_aside', code: 'parent_missing' });
    expect(visit).toBeDefined();
  });
});
