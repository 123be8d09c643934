import type pg from 'pg';
import { afterAll, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { AssessmentInput } from '../../src/rules/assessment/assessment-input.ts';
import { UNIT_RECORD_KEYS } from '../../src/store/unit-neighbourhood.ts';
import { type Lane, openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { takeUp } from '../../src/writes/take-up.ts';
import { type Between, faultyPool } from '../support/faulty-pool.ts';
import { historyFaults } from '../support/history-check.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, TestClient, TestFirm } from '../support/test-firm.ts';
import { readingDraft, visitDrafts } from '../support/visit-drafts.ts';

/** What code of the server fails on, as long as it has its faults. */
const faulty = vi.hoisted(() => ({ rule: true, reader: true }));

vi.mock('../../src/rules/assessment/assess-purge.ts', async (original) => {
  const real = await original<typeof import('../../src/rules/assessment/assess-purge.ts')>();
  const assessPurge = (input: AssessmentInput) => {
    if (faulty.rule && input.readings.some(({ fields }) => fields.ph === '6.66')) throw new TypeError('a rule fails');
    return real.assessPurge(input);
  };
  return { ...real, assessPurge };
});

vi.mock('../../src/writes/read-line.ts', async (original) => {
  const real = await original<typeof import('../../src/writes/read-line.ts')>();
  const readLine: typeof real.readLine = (text, ...more) => {
    if (faulty.reader && text.includes('read to fail')) throw new RangeError('a line that is not read to its end');
    return real.readLine(text, ...more);
  };
  return { ...real, readLine };
});

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;
let crew: TestClient;
let lane: Lane;
let before: Between;
const failed = vi.fn<(setAside: string, error: unknown) => void>();

const context = () => ({ pool: db.pool, now: () => new Date(firm.nowMs), committed: () => undefined, failed });

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
  const pool = faultyPool(db.pool, (statement, connection) => before(statement, connection));
  lane = openLane({ ...context(), pool });
});
beforeEach(async () => {
  Object.assign(faulty, { rule: true, reader: true });
  before = () => undefined;
  failed.mockClear();
  crew = new TestClient((await firm.client('crew', firm.ids.phone)).actor, lane);
});
afterAll(() => db.drop());

const ODD = { ph: '6.66' };

async function newPurge(): Promise<string> {
  const { ids, drafts } = visitDrafts(firm);
  await crew.push(...drafts);
  return ids.purge;
}

function readings(purge: string, count: number, odd: readonly number[]): Draft[] {
  return Array.from({ length: count }, (_, at) => readingDraft(firm, purge, at + 1, odd.includes(at) ? ODD : {}));
}

/** One on which the reading fails, as long as that has its fault. */
function unreadRemark(purge: string): Draft {
  return { verb: 'amend', kind: 'purge', id: purge, base: { rev: 1 }, set: { remark: 'read to fail' } };
}

async function keptUnder(setAside: string | undefined) {
  const text = 'select code, standing, raw from set_aside where firm = $1 and id = $2';
  return (await db.bypass.query(text, [firm.id, setAside])).rows[0];
}

async function readingsOf(purge: string): Promise<number> {
  return (await db.bypass.query('select count(*) as n from reading where purge = $1', [purge])).rows[0].n;
}

/** As the database fails a statement that ran too long, or met a deadlock. */
async function failWith(connection: pg.PoolClient, code: string): Promise<void> {
  await connection.query(`do $$ begin raise exception 'made for a test' using errcode = '${code}'; end $$`);
}

async function clean(): Promise<void> {
  faulty.rule = false;
  expect(await recompute(db.pool, firm.id)).toEqual([]);
  expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
}

describe('what code of the server fails on each time', () => {
  it.each([
    ['first', [0]],
    ['last', [10]],
    ['several', [1, 5, 6]],
    ['all', [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]],
  ])('[W11] is found among the others and set aside alone, and told to who runs it: %s', async (_where, odd) => {
    const purge = await newPurge();
    const first = crew.next;
    const lines = readings(purge, 11, odd).map((draft) => crew.line(draft));
    const answer = await crew.answer(lines, first);
    const outcomes = crew.outcomes(answer);
    expect(outcomes.map((one) => one.outcome)).toEqual(
      lines.map((_, at) => (odd.includes(at) ? 'set_aside' : 'applied')),
    );
    const aside = outcomes.filter(({ outcome }) => outcome === 'set_aside');
    expect(new Set(aside.map(({ code }) => code))).toEqual(new Set(['server_failed']));
    const told = failed.mock.calls.map(([id, error]) => [id, String(error)]);
    expect(told).toEqual(aside.map(({ setAside }) => [setAside, 'TypeError: a rule fails']));
    for (const { setAside, mutationId = 0 } of aside) {
      expect((await keptUnder(setAside)).raw.toString()).toBe(lines[mutationId - first]);
    }
    expect(await crew.answer(lines, first)).toMatchObject({
      outcomes: answer.status === 'answered' ? answer.outcomes : [],
      repeated: 11,
    });
    expect(await readingsOf(purge)).toBe(11 - odd.length);
    await clean();
  });

  it('[W11] is set aside alone where the reading of it fails, and applied once that is mended', async () => {
    const purge = await newPurge();
    const remark = unreadRemark(purge);
    const first = crew.next;
    const lines = [crew.line(readingDraft(firm, purge, 2)), crew.line(remark), crew.line(readingDraft(firm, purge, 3))];
    const outcomes = crew.outcomes(await crew.answer(lines, first));
    expect(outcomes.map(({ code, outcome }) => code ?? outcome)).toEqual(['applied', 'server_failed', 'applied']);
    expect(failed.mock.calls.map(([id, error]) => [id, String(error)])).toEqual([
      [outcomes[1]?.setAside, 'RangeError: a line that is not read to its end'],
    ]);
    expect((await keptUnder(outcomes[1]?.setAside)).raw.toString()).toBe(lines[1]);
    expect(crew.outcomes(await crew.answer(lines, first))).toEqual(outcomes);
    await takeUp(context(), firm.id);
    expect(await keptUnder(outcomes[1]?.setAside)).toMatchObject({ standing: 'kept' });
    faulty.reader = false;
    await takeUp(context(), firm.id);
    expect(await keptUnder(outcomes[1]?.setAside)).toMatchObject({ standing: 'released' });
    expect((await db.bypass.query('select remark from purge where id = $1', [purge])).rows).toEqual([
      { remark: 'read to fail' },
    ]);
    await clean();
  });

  it('[W11] is not set aside in a place that is not its own, where the reading of it fails', async () => {
    const purge = await newPurge();
    const remark = unreadRemark(purge);
    const line = crew.line(remark);
    await expect(crew.answer([line], crew.next + 3)).resolves.toMatchObject({ status: 'gap', expected: crew.next - 1 });
    expect(failed).not.toHaveBeenCalled();
    const { actor } = await firm.client('coordinator');
    const own = new TestClient(actor, lane);
    const single = batchOf(actor, own.id, 1, [own.line(remark)]);
    await expect(lane({ ...single, oneShot: true })).rejects.toThrow('not read to its end');
  });

  it('[W11] keeps by how much the clock of its device was off, where the reading of it fails', async () => {
    const purge = await newPurge();
    const remark = unreadRemark(purge);
    const line = crew.line(remark);
    const sent = { wall: new Date(firm.nowMs - 7_200_000).toISOString(), monotonicMs: 5, boot: 'b' };
    const batch = { ...batchOf(crew.actor, crew.id, crew.next - 1, [line]), sent, roundTripMs: 80 };
    const [outcome] = crew.outcomes(await lane(batch));
    const text = 'select difference_ms as off, uncertainty_ms as by from set_aside where firm = $1 and id = $2';
    expect((await db.bypass.query(text, [firm.id, outcome?.setAside])).rows).toEqual([{ off: 7_200_000, by: 40 }]);
    faulty.reader = false;
    await takeUp(context(), firm.id);
  });

  it('[W11] is not kept in a place that another process gave to something else meanwhile', async () => {
    const purge = await newPurge();
    const elsewhere = openLane(context());
    const number = crew.next;
    const [odd, other] = [crew.line(readingDraft(firm, purge, 1, ODD)), readingDraft(firm, purge, 2)];
    const clone = new TestClient(crew.actor, elsewhere);
    const stored = batchOf(crew.actor, crew.id, number, [JSON.stringify({ ...other, mutationId: number })]);
    let begun = 0;
    before = async (text) => {
      if (!text.startsWith('begin')) return;
      begun += 1;
      // it failed with what waits for it and without, and is to be kept now
      if (begun === 3) expect(clone.outcomes(await elsewhere(stored))).toMatchObject([{ mutationId: number }]);
    };
    await expect(crew.answer([odd], number)).rejects.toThrow('a rule fails');
    before = () => undefined;
    expect(begun).toBe(3);
    await expect(crew.answer([odd], number)).resolves.toEqual({ status: 'reused', mutation: number });
    expect(failed).not.toHaveBeenCalled();
  });

  it('[W13] is kept unread for a person where a revoked device brings what cannot be read', async () => {
    const purge = await newPurge();
    const remark = unreadRemark(purge);
    const lines = [crew.line(remark)];
    const answer = await lane(batchOf({ ...crew.actor, revoked: true }, crew.id, crew.next - 1, lines));
    expect(crew.outcomes(answer)).toMatchObject([{ outcome: 'set_aside', code: 'device_revoked' }]);
  });

  it('[W9] is no matter of those who share its transaction, of whom none is told that it came before', async () => {
    const purge = await newPurge();
    const { actor } = await firm.client('coordinator');
    const phone = (await firm.client('crew', firm.ids.phone)).actor;
    const [bad, good] = [new TestClient(phone, lane), new TestClient(phone, lane)];
    const request = (draft: Draft) => {
      const own = new TestClient(actor, lane);
      return { ...batchOf(actor, own.id, 1, [own.line(draft)]), oneShot: true };
    };
    const failing = readingDraft(firm, purge, 1, ODD);
    // the first goes alone, and the others wait for it
    const all = await Promise.allSettled([
      lane(request(readingDraft(firm, purge, 2))),
      lane(request(readingDraft(firm, purge, 3))),
      lane(request(failing)),
      lane(batchOf(bad.actor, bad.id, 1, [bad.line(readingDraft(firm, purge, 4, ODD))])),
      lane(batchOf(good.actor, good.id, 1, [good.line(readingDraft(firm, purge, 5))])),
    ]);
    expect(all.map((one) => (one.status === 'fulfilled' ? one.value : String(one.reason)))).toMatchObject([
      { status: 'answered', repeated: 0 },
      { status: 'answered', repeated: 0 },
      'TypeError: a rule fails',
      { status: 'answered', repeated: 0 },
      { status: 'answered', repeated: 0 },
    ]);
    expect(await readingsOf(purge)).toBe(3);
    await clean();
  });

  it('[W9] keeps nobody waiting whose own push is through', async () => {
    const purge = await newPurge();
    const phone = (await firm.client('crew', firm.ids.phone)).actor;
    const [good, bad] = [new TestClient(phone, lane), new TestClient(phone, lane)];
    const order: string[] = [];
    const noted = async (name: string, answer: Promise<unknown>) => {
      await answer;
      order.push(name);
    };
    failed.mockImplementation(() => void order.push('a culprit is found'));
    await Promise.all([
      noted('alone', crew.push(readingDraft(firm, purge, 1))),
      noted('good', good.push(readingDraft(firm, purge, 2))),
      noted('bad', bad.push(...readings(purge, 8, [2, 7]))),
    ]);
    failed.mockReset();
    expect(order).toEqual(['alone', 'good', 'a culprit is found', 'a culprit is found', 'bad']);
    await clean();
  });

  it('[W3] leaves no gap behind it where it is not set aside and more of its client comes with it', async () => {
    const purge = await newPurge();
    const { pool, now, committed } = context();
    const silent = openLane({ pool, now, committed });
    const phone = (await firm.client('crew', firm.ids.phone)).actor;
    const [one, other] = [new TestClient(phone, silent), new TestClient(phone, silent)];
    const all = await Promise.allSettled([
      other.answer([other.line(readingDraft(firm, purge, 1))], 1),
      one.answer([one.line(readingDraft(firm, purge, 2, ODD))], 1),
      one.answer([one.line(readingDraft(firm, purge, 3))], 2),
    ]);
    expect(all).toMatchObject([
      { value: { status: 'answered' } },
      { reason: { message: 'a rule fails' } },
      { value: { status: 'gap', expected: 1 } },
    ]);
    await clean();
  });

  it('[W11] is tried again until the server is mended, and is applied then with what waited for it', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const [visit, ...others] = drafts;
    await crew.push(...(visit ? [visit] : []));
    // a purge without its readings does not fail; the first reading is what the rule meets
    await crew.push(...others);
    const odd = readingDraft(firm, ids.purge, 5, ODD);
    const needs = { ...readingDraft(firm, ids.purge, 10), requires: [odd.id ?? ''] };
    const outcomes = await crew.push(odd, needs);
    expect(outcomes).toMatchObject([{ code: 'server_failed' }, { code: 'parent_missing' }]);
    failed.mockClear();
    for (const round of [1, 2]) {
      expect(await takeUp(context(), firm.id), `round ${round}`).toBe(0);
      expect(failed.mock.calls.filter(([id]) => id === outcomes[0]?.setAside)).toHaveLength(round);
    }
    faulty.rule = false;
    await takeUp(context(), firm.id);
    expect(await readingsOf(ids.purge)).toBe(2);
    const [row] = (
      await db.bypass.query(
        'select l.client, l.mutation from head h join ledger l using (firm, feed, seq) where h.firm = $1 and h.id = $2',
        [firm.id, odd.id],
      )
    ).rows;
    expect(row).toEqual({ client: crew.id, mutation: outcomes[0]?.mutationId });
    await clean();
  });

  it('[W11] says what it lacks where it is decided otherwise once the server is mended', async () => {
    const purge = await newPurge();
    const [outcome] = await crew.push(...readings(purge, 1, [0]));
    // as if what the server failed on had been that
    const raw = {
      mutationId: outcome?.mutationId,
      verb: 'amend',
      kind: 'reading',
      id: readingDraft(firm, purge, 1).id,
    };
    const text = JSON.stringify({ ...raw, base: { rev: 1 }, set: { ph: '7.00' } });
    await db.bypass.query('update set_aside set raw = $3 where firm = $1 and id = $2', [
      firm.id,
      outcome?.setAside,
      Buffer.from(text),
    ]);
    faulty.rule = false;
    await takeUp(context(), firm.id);
    expect(await keptUnder(outcome?.setAside)).not.toMatchObject({ code: 'server_failed' });
  });

  it('[W11] is kept with the hand that brought it, and when that had looked for news last', async () => {
    const purge = await newPurge();
    await db.bypass.query(`update client set seen_at = '2026-05-04T11:00:00Z' where firm = $1 and id = $2`, [
      firm.id,
      crew.id,
    ]);
    const [outcome] = await crew.push(...readings(purge, 1, [0]));
    const text = 'select device, since from set_aside where firm = $1 and id = $2';
    const { rows } = await db.bypass.query(text, [firm.id, outcome?.setAside]);
    expect(rows).toMatchObject([{ device: firm.ids.phone }]);
    expect(new Date(rows[0].since).toISOString()).toBe('2026-05-04T11:00:00.000Z');
  });

  it('[V6] does not keep lines of newer phones waiting where it is the reading of one that fails', async () => {
    const purge = await newPurge();
    const [bad, good] = await crew.push(...readings(purge, 2, [0, 1]));
    const failing = Buffer.from(JSON.stringify({ remark: 'read to fail' }));
    const text = 'update set_aside set raw = $3 where firm = $1 and id = $2';
    await db.bypass.query(text, [firm.id, bad?.setAside, failing]);
    faulty.rule = false;
    failed.mockClear();
    await takeUp(context(), firm.id);
    expect(failed.mock.calls.map(([id]) => id)).toEqual([bad?.setAside]);
    expect(await keptUnder(good?.setAside)).toMatchObject({ standing: 'released' });
    expect(await keptUnder(bad?.setAside)).toMatchObject({ standing: 'kept' });
    // mended, and still no mutation: it goes on being tried, since this version may be mended again
    faulty.reader = false;
    await takeUp(context(), firm.id);
    const tried = await db.bypass.query('select tried_version from set_aside where firm = $1 and id = $2', [
      firm.id,
      bad?.setAside,
    ]);
    expect(tried.rows).toEqual([{ tried_version: 0 }]);
    await db.bypass.query(`update set_aside set standing = 'released' where firm = $1 and id = $2`, [
      firm.id,
      bad?.setAside,
    ]);
  });

  it('[W13] is not kept for being tried again where a revoked device brings it', async () => {
    const purge = await newPurge();
    const revoked = { ...crew.actor, revoked: true };
    // each time that it is applied; what would keep it after that would get through
    let times = 0;
    before = (text) => {
      if (!text.startsWith('insert into set_aside')) return;
      times += 1;
      if (times <= 2) throw new TypeError('keeping it fails');
    };
    const lines = readings(purge, 1, [0]).map((draft) => crew.line(draft));
    await expect(lane(batchOf(revoked, crew.id, crew.next - 1, lines))).rejects.toThrow('keeping it fails');
    before = () => undefined;
    expect(failed).not.toHaveBeenCalled();
  });

  it('[W11] is no line that met a fault of connecting', async () => {
    const purge = await newPurge();
    let refused = 0;
    const away = new Proxy(db.pool, {
      get: (target, name) => {
        if (name !== 'connect') return Reflect.get(target, name, target);
        return async () => {
          refused += 1;
          if (refused <= 2) throw new TypeError('the driver fails at connecting');
          return target.connect();
        };
      },
    });
    const phone = new TestClient(crew.actor, openLane({ ...context(), pool: away }));
    await expect(phone.push(...readings(purge, 1, []))).rejects.toThrow('at connecting');
    expect(failed).not.toHaveBeenCalled();
  });

  it('[W11] is answered as a fault where it comes as a request of its own, or where nobody is told', async () => {
    const purge = await newPurge();
    const { actor } = await firm.client('coordinator');
    const own = new TestClient(actor, lane);
    const single = batchOf(actor, own.id, 1, [own.line(readingDraft(firm, purge, 1, ODD))]);
    await expect(lane({ ...single, oneShot: true })).rejects.toThrow('a rule fails');
    const { pool, now, committed } = context();
    const silent = openLane({ pool, now, committed });
    const phone = new TestClient(crew.actor, silent);
    await expect(phone.push(...readings(purge, 3, [1]))).rejects.toThrow('a rule fails');
    expect(failed).not.toHaveBeenCalled();
    const { rows } = await db.bypass.query('select 1 from set_aside where client = any($1)', [[own.id, phone.id]]);
    expect(rows).toEqual([]);
  });

  it('[W12] may be released by a coordinator once the server is mended', async () => {
    const purge = await newPurge();
    const [outcome] = await crew.push(...readings(purge, 1, [0]));
    faulty.rule = false;
    const [released] = await office.push({ verb: 'release', kind: 'set-aside', id: outcome?.setAside ?? '' });
    expect(released).toMatchObject({ outcome: 'applied', kind: 'reading' });
  });
});

describe('a push that takes the database too long', () => {
  /** Cancels each transaction of the client that stores more than so many mutations. */
  function cancelsOver(most: number, tries: { count: number }): Between {
    return async (text, connection) => {
      if (text !== 'commit') return;
      const asked = 'select count(*) as n from receipt where client = $1 and xmin = pg_current_xact_id()::xid';
      const { rows } = await connection.query<{ n: number }>(asked, [crew.id]);
      if ((rows[0]?.n ?? 0) <= most) return;
      tries.count += 1;
      await failWith(connection, '57014');
    };
  }

  it('[W14] is tried again in parts, each of which has the lock no longer than it takes to find out', async () => {
    const purge = await newPurge();
    const tries = { count: 0 };
    before = cancelsOver(3, tries);
    const outcomes = await crew.push(...readings(purge, 11, []));
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(Array(11).fill('applied'));
    // eleven, then six and five: one try each
    expect(tries.count).toBe(3);
    await clean();
  });

  it('[W14] is thrown where one mutation alone does, and what went through is not done twice', async () => {
    const purge = await newPurge();
    const tries = { count: 0 };
    before = cancelsOver(0, tries);
    const first = crew.next;
    const lines = readings(purge, 3, []).map((draft) => crew.line(draft));
    await expect(crew.answer(lines, first)).rejects.toThrow('made for a test');
    expect(await readingsOf(purge)).toBe(0);
    // three, two and one, and that without what may wait for it: each once
    expect(tries.count).toBe(4);
    before = () => undefined;
    expect(crew.outcomes(await crew.answer(lines, first)).map(({ outcome }) => outcome)).toEqual(
      Array(3).fill('applied'),
    );
    expect(failed).not.toHaveBeenCalled();
  });

  it('[W14] is told as such where the look at its units is what takes too long, with much of it sent already', async () => {
    const purge = await newPurge();
    let times = 0;
    before = async (text, connection) => {
      if (text !== UNIT_RECORD_KEYS) return;
      times += 1;
      if (times > 1) return;
      await failWith(connection, '57014');
    };
    const drafts = Array.from({ length: 120 }, (_, at) => readingDraft(firm, purge, at + 1));
    // one that was begun just now has to ask where the feeds end
    const pool = faultyPool(db.pool, (statement, connection) => before(statement, connection));
    const phone = new TestClient(crew.actor, openLane({ ...context(), pool }));
    const outcomes = await phone.push(...drafts);
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(Array(120).fill('applied'));
    expect(times).toBeGreaterThan(1);
    await clean();
  });

  it('[W14] goes through without what waits for it, where that is too much at once, and that in parts', async () => {
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...Array.from({ length: 12 }, (_, at) => readingDraft(firm, ids.purge, at + 1)));
    let cancelled = 0;
    before = async (text, connection) => {
      if (text !== 'commit') return;
      const asked = `select count(*) as n from ledger where kind = 'reading' and firm = $1 and xmin = pg_current_xact_id()::xid`;
      const { rows } = await connection.query<{ n: number }>(asked, [firm.id]);
      if ((rows[0]?.n ?? 0) <= 3) return;
      cancelled += 1;
      await failWith(connection, '57014');
    };
    const phone = new TestClient(crew.actor, lane);
    const outcomes = await phone.push(...drafts);
    expect(new Set(outcomes.map(({ outcome }) => outcome))).toEqual(new Set(['applied']));
    expect(cancelled).toBeGreaterThan(2);
    expect(await readingsOf(ids.purge)).toBe(12);
    await clean();
  });

  it('[W14] stays together where it came as one request', async () => {
    const purge = await newPurge();
    const tries = { count: 0 };
    before = async (text, connection) => {
      if (text !== 'commit') return;
      tries.count += 1;
      await failWith(connection, '57014');
    };
    const own = new TestClient((await firm.client('coordinator')).actor, lane);
    const lines = readings(purge, 4, []).map((draft) => own.line(draft));
    await expect(lane({ ...batchOf(own.actor, own.id, 1, lines), oneShot: true })).rejects.toThrow('made for a test');
    expect([tries.count, await readingsOf(purge)]).toEqual([4, 0]);
  });
});

describe('what the database refuses', () => {
  it('[W11] is found among so many that they are sent before all are derived', async () => {
    const purge = await newPurge();
    const owner = await db.owner();
    await owner.query('alter table reading add constraint no_odd_value check (ph <> 5.44)');
    const drafts = Array.from({ length: 300 }, (_, at) =>
      readingDraft(firm, purge, at + 1, at === 7 ? { ph: '5.44' } : {}),
    );
    const outcomes = await crew.push(...drafts);
    expect(outcomes.filter(({ outcome }) => outcome === 'applied')).toHaveLength(299);
    expect(outcomes[7]).toMatchObject({ outcome: 'set_aside', code: 'database_refused' });
    await clean();
  });

  it('[W11] is found among what waits for one line, which goes through without it', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const odd = (at: number) => (at === 7 ? { ph: '5.44' } : {});
    const waiting = Array.from({ length: 150 }, (_, at) => readingDraft(firm, ids.purge, at + 1, odd(at)));
    const aside = await crew.push(...waiting);
    expect(new Set(aside.map(({ code }) => code))).toEqual(new Set(['parent_missing']));
    const outcomes = await crew.push(...drafts);
    expect(new Set(outcomes.map(({ outcome }) => outcome))).toEqual(new Set(['applied']));
    expect(await readingsOf(ids.purge)).toBe(149);
    expect(await keptUnder(aside[7]?.setAside)).toMatchObject({ standing: 'waiting' });
    await clean();
  });

  it.each(['57014', '40P01'])(
    '[W14] is told from %s where a statement that was sent early failed, and nothing of a request is stored then',
    async (code) => {
      const purge = await newPurge();
      let times = 0;
      before = async (text, connection) => {
        if (!text.includes('into "reading"')) return;
        times += 1;
        await failWith(connection, code);
      };
      const own = new TestClient((await firm.client('coordinator')).actor, lane);
      const lines = Array.from({ length: 250 }, (_, at) => own.line(readingDraft(firm, purge, at + 1)));
      await expect(lane({ ...batchOf(own.actor, own.id, 1, lines), oneShot: true })).rejects.toMatchObject({ code });
      expect(times).toBeGreaterThanOrEqual(4);
      expect(await readingsOf(purge)).toBe(0);
    },
  );
});

describe('several changes that come as one request', () => {
  it('[W11] of which the database refuses one are answered each by itself, and again the same', async () => {
    const purge = await newPurge();
    const owner = await db.owner();
    await owner.query(`alter table reading add constraint no_cursed_value check (ph <> 5.55)`);
    const own = new TestClient((await firm.client('coordinator')).actor, lane);
    const drafts = [0, 1, 2, 3, 4].map((at) => readingDraft(firm, purge, at + 1, at === 3 ? { ph: '5.55' } : {}));
    const batch = {
      ...batchOf(
        own.actor,
        own.id,
        1,
        drafts.map((draft) => own.line(draft)),
      ),
      oneShot: true,
    };
    const answer = await lane(batch);
    expect(own.outcomes(answer).map(({ outcome }) => outcome)).toEqual([
      'applied',
      'applied',
      'applied',
      'set_aside',
      'applied',
    ]);
    expect(await lane(batch)).toMatchObject({
      outcomes: answer.status === 'answered' ? answer.outcomes : [],
      repeated: 5,
    });
  });
});
