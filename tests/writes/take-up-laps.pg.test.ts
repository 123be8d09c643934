import { v7 } from 'uuid';
import { afterAll, afterEach, beforeAll, expect, it, vi } from 'vitest';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import { makePool } from '../../src/store/pool.ts';
import { firmLock } from '../../src/store/write/transaction.ts';
import { takeUp } from '../../src/writes/take-up.ts';
import { Laps } from '../../src/writes/take-up-laps.ts';
import type { TakeUpContext } from '../../src/writes/take-up-round.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type OutcomeLike, type TestClient, TestFirm } from '../support/test-firm.ts';
import { testLog } from '../support/test-log.ts';
import { minute, visitDrafts } from '../support/visit-drafts.ts';

/** Kinds that the server does not know yet. */
const unknown = vi.hoisted(() => new Set<string>());

vi.mock('../../src/protocol/kinds-by-name.ts', async (original) => {
  const real = await original<typeof import('../../src/protocol/kinds-by-name.ts')>();
  return { ...real, kindNamed: (name: string) => (unknown.has(name) ? undefined : real.kindNamed(name)) };
});

let db: TestDatabase;
let firm: TestFirm;
let visit: string;
/** Ends what makes records overrun. */
let mend: () => Promise<void> = async () => undefined;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  const crew = await firm.client('crew', firm.ids.phone);
  const { drafts, ids } = visitDrafts(firm);
  visit = ids.visit;
  await crew.push(...drafts);
});
afterEach(() => mend());
afterAll(() => db.drop());

async function pushNewer(client: TestClient, ...drafts: readonly Draft[]): Promise<readonly OutcomeLike[]> {
  const version = SCHEMA_VERSION + 1;
  const first = client.next;
  const batch = batchOf(
    client.actor,
    client.id,
    first,
    drafts.map((draft) => client.line(draft)),
  );
  unknown.add('sounding');
  const lines = batch.lines.map((line) => ({ ...line, version }));
  const answer = await firm.lane({ ...batch, schemaVersion: version, lines });
  unknown.clear();
  return client.outcomes(answer);
}

function sounding(id: string): Draft {
  return { kind: 'sounding', id, set: { visit, depthToBottomFt: '60.1', observed: firm.observed(minute(2)) } };
}

/** Where the writing of a record is to end otherwise, as PL/pgSQL says it of `new`, and with which code. */
interface Fault {
  readonly when: string;
  readonly code: string;
}

/** Lets writing records end in a fault, and counts how often that was tried. */
async function failing({ when, code }: Fault): Promise<() => Promise<number>> {
  const owner = await db.owner();
  await owner.query(`create sequence tries; grant all on sequence tries to public;
create function fails() returns trigger language plpgsql as $$
begin
  if ${when} then
    perform nextval('tries');
    raise exception 'not this one' using errcode = '${code}';
  end if;
  return new;
end $$; create trigger fails before insert on ledger for each row execute function fails()`);
  mend = async () => {
    await owner.query('drop function fails cascade; drop sequence tries');
    await owner.end();
    mend = async () => undefined;
  };
  let before = 0;
  return async () => {
    // a sequence is not rolled back with the transaction
    const { rows } = await owner.query('select case when is_called then last_value else 0 end as n from tries');
    const since = Number(rows[0]?.n) - before;
    before += since;
    return since;
  };
}

function among(records: readonly string[]): string {
  return `new.record = any('{${records.join()}}'::uuid[])`;
}

/** Records whose writing takes longer than the database allows. */
function overrunning(records: readonly string[]): Promise<() => Promise<number>> {
  return failing({ when: among(records), code: '57014' });
}

/** A level that came before the sounding that it asks for. */
async function waitingLevel(crew: TestClient, id: string, sounding: string, depthToWaterFt = '11.20'): Promise<void> {
  const observed = firm.observed(minute(3));
  const set = { visit, purpose: 'synoptic', state: 'measured', depthToWaterFt, observed };
  const [waits] = await crew.push({ kind: 'water-level', id, set, requires: [sounding] });
  expect(waits).toMatchObject({ code: 'parent_missing' });
}

async function applied(ids: readonly string[]): Promise<boolean[]> {
  const { rows } = await db.bypass.query('select id from head where firm = $1 and id = any($2)', [firm.id, ids]);
  return ids.map((id) => rows.some((row) => row.id === id));
}

function context(): TakeUpContext {
  return { pool: db.pool, now: () => new Date(firm.nowMs), committed: () => undefined };
}

/** Rounds of one process. @returns what each one took up */
function rounds(more: Partial<TakeUpContext> = {}) {
  const laps = new Laps();
  const failed = vi.fn();
  const one = () => takeUp({ ...context(), failed, laps, ...more }, firm.id);
  return { one, failed };
}

it('[V6] [W9] a round tries no line twice that overruns, ends after two, and the next goes on behind them', async () => {
  const bad = Array.from({ length: 5 }, () => v7());
  const [early, late] = [v7(), v7()];
  const crew = await firm.client('crew', firm.ids.phone);
  const outcomes = await pushNewer(crew, ...[early, ...bad, late].map(sounding));
  const tries = await overrunning(bad);
  const { one, failed } = rounds();
  const told = () => {
    const ids = failed.mock.calls.map(([id]) => outcomes.findIndex(({ setAside }) => setAside === id));
    failed.mockClear();
    return ids;
  };
  expect([await one(), await tries(), told()]).toEqual([1, 2, [1, 2]]);
  expect([await one(), await tries(), told()]).toEqual([0, 2, [3, 4]]);
  expect([await one(), await tries(), told()]).toEqual([1, 1, [5]]);
  expect(await applied([early, late])).toEqual([true, true]);
  // each comes again, however often it has failed
  for (const again of [[1, 2], [3, 4], [5], [1, 2]]) {
    expect([await one(), await tries(), told()]).toEqual([0, again.length, again]);
  }
  await mend();
  expect([await one(), await one()]).toEqual([3, 2]);
  expect(await applied(bad)).toEqual(bad.map(() => true));
});

it('[V6] [W9] what comes meanwhile has its turn in the same lap, and a process begun anew begins with the first', async () => {
  const bad = [v7(), v7()];
  const crew = await firm.client('crew', firm.ids.phone);
  await pushNewer(crew, ...bad.map(sounding));
  const tries = await overrunning(bad);
  const { one } = rounds();
  expect([await one(), await tries()]).toEqual([0, 2]);
  const late = v7();
  await pushNewer(crew, sounding(late));
  expect([await one(), await tries()]).toEqual([1, 0]);
  expect([await one(), await tries()]).toEqual([0, 2]);
  expect([await rounds().one(), await tries()]).toEqual([0, 2]);
  await mend();
  expect(await rounds().one()).toBe(2);
});

it('[W9] a line that overruns by what waits for it is applied without that in the next lap, and then each by itself', async () => {
  const [id, slow, good] = [v7(), v7(), v7()];
  const crew = await firm.client('crew', firm.ids.phone);
  await pushNewer(crew, sounding(id));
  await waitingLevel(crew, slow, id);
  await waitingLevel(crew, good, id, '11.21');
  const tries = await overrunning([slow]);
  const { one } = rounds();
  expect([await one(), await tries()]).toEqual([0, 1]);
  expect([await one(), await tries()]).toEqual([1, 1]);
  expect(await applied([id, slow, good])).toEqual([true, false, true]);
  expect([await one(), await tries()]).toEqual([0, 1]);
  await mend();
  expect(await one()).toBe(0);
  expect(await applied([slow])).toEqual([true]);
});

it('[W9] a line and what waits for it that overrun together are applied one by one', async () => {
  const [id, companion] = [v7(), v7()];
  const crew = await firm.client('crew', firm.ids.phone);
  await pushNewer(crew, sounding(id));
  await waitingLevel(crew, companion, id);
  const written = `set_config('test.written', coalesce(current_setting('test.written', true), '') || '+', true)`;
  await failing({ when: `${among([id, companion])} and ${written} like '%++'`, code: '57014' });
  const { one } = rounds();
  expect([await one(), await one()]).toEqual([0, 1]);
  expect(await applied([id, companion])).toEqual([true, true]);
});

it('[V6] [W11] of what waits for a line, what the database refuses keeps out nothing else', async () => {
  const [id, bad, good] = [v7(), v7(), v7()];
  const crew = await firm.client('crew', firm.ids.phone);
  await pushNewer(crew, sounding(id));
  await waitingLevel(crew, bad, id);
  await waitingLevel(crew, good, id, '11.21');
  await failing({ when: among([bad]), code: '23514' });
  expect(await rounds().one()).toBe(1);
  expect(await applied([id, bad, good])).toEqual([true, false, true]);
});

it('[W9] waiting for the lock of the firm is no fault of a line: it ends the round, and the next goes on with that line', async () => {
  const [id, companion] = [v7(), v7()];
  const crew = await firm.client('crew', firm.ids.phone);
  await pushNewer(crew, sounding(id));
  await waitingLevel(crew, companion, id);
  const pool = makePool(db.config, testLog);
  pool.on('connect', (client) => void client.query(`set statement_timeout = '1s'`));
  const holder = await db.owner();
  await holder.query(`begin; ${firmLock(firm.id)}`);
  const laps = new Laps();
  const { one, failed } = rounds({ pool, laps });
  await expect(one()).rejects.toThrow('statement timeout');
  await pool.end();
  await holder.end();
  expect(await rounds({ laps }).one()).toBe(1);
  expect(failed).not.toHaveBeenCalled();
  expect(await applied([id, companion])).toEqual([true, true]);
});

it.each(['57P02', '40P01', '40001'])(
  '[V6] [W9] a line whose try ends in %s each time ends the round, and stops none of those behind it',
  async (code) => {
    const ids = [v7(), v7(), v7()];
    const [, bad = ''] = ids;
    const crew = await firm.client('crew', firm.ids.phone);
    await pushNewer(crew, ...ids.map(sounding));
    await failing({ when: among([bad]), code });
    const { one } = rounds();
    await expect(one()).rejects.toThrow('not this one');
    expect(await one()).toBe(1);
    expect(await applied(ids)).toEqual([true, false, true]);
    await expect(one()).rejects.toThrow('not this one');
    await mend();
    expect([await one(), await one()]).toEqual([0, 1]);
    expect(await applied([bad])).toEqual([true]);
  },
);

it('[W9] a round ends where its long tries took their time together, whatever became of them; brief ones do not count', async () => {
  const crew = await firm.client('crew', firm.ids.phone);
  const each = async (tookMs: number, more: Partial<TakeUpContext> = {}) => {
    await pushNewer(crew, ...Array.from({ length: 5 }, () => sounding(v7())));
    let nowMs = firm.nowMs;
    const committed = () => {
      nowMs += tookMs;
    };
    const { one } = rounds({ now: () => new Date(nowMs), committed, ...more });
    return [await one(), await one(), await one()];
  };
  expect(await each(15_000)).toEqual([2, 2, 1]);
  expect(await each(10_000)).toEqual([3, 2, 0]);
  expect(await each(10_000, { roundMs: 40_000 })).toEqual([4, 1, 0]);
  expect(await each(900, { roundMs: 1000 })).toEqual([5, 0, 0]);
});

it('[V6] [W9] a new process begins somewhere, and comes to the first lines all the same', async () => {
  const ids = Array.from({ length: 5 }, () => v7());
  const crew = await firm.client('crew', firm.ids.phone);
  await pushNewer(crew, ...ids.map(sounding));
  // the first two overrun: a process that begins with them ends its round there
  await overrunning(ids.slice(0, 2));
  expect(await rounds({ laps: new Laps(() => 0.999) }).one()).toBe(0);
  expect(await rounds({ laps: new Laps(() => 0.6) }).one()).toBe(1);
  const laps = new Laps(() => 0.4);
  expect(await rounds({ laps }).one()).toBe(2);
  await mend();
  expect([await rounds({ laps }).one(), await rounds({ laps }).one()]).toEqual([0, 2]);
  expect(await applied(ids)).toEqual(ids.map(() => true));
});
