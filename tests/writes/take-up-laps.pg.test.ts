import { v7 } from 'uuid';
import { afterAll, afterEach, beforeAll, expect, it, vi } from 'vitest';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import { takeUp } from '../../src/writes/take-up.ts';
import { Laps } from '../../src/writes/take-up-laps.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type OutcomeLike, type TestClient, TestFirm } from '../support/test-firm.ts';
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

/** Lets writing these records end as one that took longer than the database allows, and counts how often it was tried. */
async function overrunning(records: readonly string[]): Promise<() => Promise<number>> {
  const owner = await db.owner();
  await owner.query(`create sequence tries; grant all on sequence tries to public;
create function too_long() returns trigger language plpgsql as $$
begin
  if new.record = any('{${records.join()}}'::uuid[]) then
    perform nextval('tries');
    raise exception 'canceling statement due to statement timeout' using errcode = '57014';
  end if;
  return new;
end $$; create trigger too_long before insert on ledger for each row execute function too_long()`);
  mend = async () => {
    await owner.query('drop function too_long cascade; drop sequence tries');
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

async function applied(ids: readonly string[]): Promise<boolean[]> {
  const { rows } = await db.bypass.query('select id from head where firm = $1 and id = any($2)', [firm.id, ids]);
  return ids.map((id) => rows.some((row) => row.id === id));
}

/** Rounds of one process. @returns what each one took up */
function rounds() {
  const laps = new Laps();
  const failed = vi.fn();
  const one = () =>
    takeUp({ pool: db.pool, now: () => new Date(firm.nowMs), committed: () => undefined, failed, laps }, firm.id);
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

it('[W9] a line that overruns by what waits for it is applied without that in the next lap', async () => {
  const [id, companion] = [v7(), v7()];
  const crew = await firm.client('crew', firm.ids.phone);
  await pushNewer(crew, sounding(id));
  const level = {
    visit,
    purpose: 'synoptic',
    state: 'measured',
    depthToWaterFt: '11.20',
    observed: firm.observed(minute(3)),
  };
  const [waits] = await crew.push({ kind: 'water-level', id: companion, set: level, requires: [id] });
  expect(waits).toMatchObject({ code: 'parent_missing' });
  const tries = await overrunning([companion]);
  const { one } = rounds();
  expect([await one(), await tries()]).toEqual([0, 1]);
  expect([await one(), await tries()]).toEqual([1, 0]);
  expect(await applied([id, companion])).toEqual([true, false]);
});
