import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it, vi } from 'vitest';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import { newerSetAside } from '../../src/store/read/newer-set-aside.ts';
import { inRead } from '../../src/store/read/transaction.ts';
import { takeUpAll, takeUpHourly } from '../../src/upgrade.ts';
import type { Answer } from '../../src/writes/batch.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { takeUp } from '../../src/writes/take-up.ts';
import { statementsOf } from '../reads/statements.ts';
import { CURSED, failingFirm } from '../support/failing-firm.ts';
import { historyFaults } from '../support/history-check.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type OutcomeLike, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, visitDrafts } from '../support/visit-drafts.ts';

/** Kinds that the server does not know yet. */
const unknown = vi.hoisted(() => new Set<string>());

vi.mock('../../src/protocol/kinds-by-name.ts', async (original) => {
  const real = await original<typeof import('../../src/protocol/kinds-by-name.ts')>();
  return { ...real, kindNamed: (name: string) => (unknown.has(name) ? undefined : real.kindNamed(name)) };
});

const NEWER = SCHEMA_VERSION + 1;

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;
let visit: string;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
  const crew = await firm.client('crew', firm.ids.phone);
  const { drafts, ids } = visitDrafts(firm);
  visit = ids.visit;
  await crew.push(...drafts);
});
afterAll(() => db.drop());

function context() {
  return { pool: db.pool, now: () => new Date(firm.nowMs), committed: () => undefined };
}

interface Pushed {
  readonly outcomes: readonly OutcomeLike[];
  readonly again: () => Promise<Answer>;
  readonly answer: Answer;
}

/** As a phone pushes whose app is newer than the server. */
async function pushNewer(client: TestClient, ...drafts: readonly Draft[]): Promise<Pushed> {
  const first = client.next;
  const lines = drafts.map((draft) => client.line(draft));
  const batch = batchOf(client.actor, client.id, first, lines);
  const newer = { ...batch, schemaVersion: NEWER, lines: batch.lines.map((line) => ({ ...line, version: NEWER })) };
  const answer = await firm.lane(newer);
  return { outcomes: client.outcomes(answer), answer, again: () => firm.lane(newer) };
}

function sounding(id: string, depthToBottomFt = '61.6'): Draft {
  return { kind: 'sounding', id, set: { visit, depthToBottomFt, observed: firm.observed(minute(2)) } };
}

async function stateOf(id: string, of = firm.id) {
  const text = `select l.state from head h join ledger l using (firm, feed, seq)
where h.firm = $1 and h.id = $2 and not h.gone`;
  return (await db.bypass.query(text, [of, id])).rows[0]?.state;
}

async function keptRow(outcome: OutcomeLike | undefined) {
  const text = 'select code, standing, raw, schema_version as version from set_aside where firm = $1 and id = $2';
  return (await db.bypass.query(text, [firm.id, outcome?.setAside])).rows[0];
}

/** The server knows these kinds now, and is of a later version than the one that tried last. */
async function upgraded(): Promise<void> {
  unknown.clear();
  await db.bypass.query('update set_aside set tried_version = $1 where tried_version > $1', [SCHEMA_VERSION - 1]);
}

async function clean(): Promise<void> {
  expect(await recompute(db.pool, firm.id)).toEqual([]);
  expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
}

it('[V6] what an older server could not read is applied when it was brought up to date, with all that waited for it', async () => {
  unknown.add('sounding');
  const [one, two] = [await firm.client('crew', firm.ids.phone), await firm.client('crew', firm.ids.phone)];
  const [id, note] = [v7(), v7()];
  // the change comes before the record, by another phone; a third record is readable and waits for the record
  const reason = 'read again';
  const early = await pushNewer(two, { verb: 'amend', kind: 'sounding', id, set: { depthToBottomFt: '61.7' }, reason });
  const level = {
    visit,
    purpose: 'synoptic',
    state: 'measured',
    depthToWaterFt: '11.20',
    observed: firm.observed(minute(3)),
  };
  const main = await pushNewer(one, sounding(id), { kind: 'water-level', id: note, set: level, requires: [id] });
  expect([...early.outcomes, ...main.outcomes]).toMatchObject([
    { outcome: 'set_aside', code: 'newer_server_needed' },
    { outcome: 'set_aside', code: 'newer_server_needed' },
    { outcome: 'set_aside', code: 'parent_missing' },
  ]);
  expect(await keptRow(main.outcomes[0])).toMatchObject({ standing: 'kept', version: NEWER });
  expect(await takeUp(context(), firm.id)).toBe(0);
  const release: Draft = { verb: 'release', kind: 'set-aside', id: main.outcomes[0]?.setAside ?? '' };
  expect((await office.push(release))[0]).toMatchObject({ outcome: 'refused', code: 'not_set_aside' });
  await upgraded();
  expect(await takeUp(context(), firm.id)).toBe(2);
  expect(await stateOf(id)).toMatchObject({ rev: 2, client: two.id, fields: { depthToBottomFt: '61.7' } });
  expect(await stateOf(note)).toMatchObject({ rev: 1, client: one.id, mutation: 2 });
  expect(await keptRow(main.outcomes[0])).toMatchObject({ standing: 'released' });
  expect(await main.again()).toEqual({ ...main.answer, repeated: 2 });
  expect(await takeUp(context(), firm.id)).toBe(0);
  await clean();
});

it('[V6] every start tries it, in every firm, and says what came of it', async () => {
  unknown.add('sounding');
  const crew = await firm.client('crew', firm.ids.phone);
  const id = v7();
  await pushNewer(crew, sounding(id, '61.4'));
  const log = { info: vi.fn(), error: vi.fn() };
  const options = { database: db, now: () => new Date(firm.nowMs), log: log as never };
  await takeUpAll(options);
  await upgraded();
  expect(log.info.mock.calls).toEqual([]);
  await takeUpAll({ ...options, database: { ...db, owner: () => Promise.reject(new Error('away')) } });
  expect(log.error.mock.calls).toEqual([[{ error: 'away' }, expect.stringContaining('again in an hour')]]);
  await Promise.all([takeUpAll(options), takeUpAll(options)]);
  const said = log.info.mock.calls.map(([fields]) => fields as { firm: string; applied: number });
  expect(said.filter((one) => one.firm === firm.id).map(({ applied }) => applied)).toContain(1);
  expect(await stateOf(id)).toMatchObject({ rev: 1, fields: { depthToBottomFt: '61.4' } });
  await clean();
});

it('[V6] what a process of the version before sets aside meanwhile is applied without another start', async () => {
  const crew = await firm.client('crew', firm.ids.phone);
  const log = { info: vi.fn(), error: vi.fn() };
  const hourly = takeUpHourly({ database: db, now: () => new Date(firm.nowMs), log: log as never, everyMs: 20 });
  for (const depth of ['61.8', '61.9']) {
    const id = v7();
    unknown.add('sounding');
    await pushNewer(crew, sounding(id, depth));
    // this process may have looked at it while it could not read it; the one beside it did not
    await upgraded();
    await vi.waitFor(async () => expect(await stateOf(id)).toMatchObject({ rev: 1 }), 5_000);
  }
  await hourly.close();
  expect(log.error.mock.calls).toEqual([]);
  await clean();
});

it('[V6] a fault in one firm does not keep another from it', async () => {
  const other = new TestFirm(db.pool);
  await other.setUp();
  const pushed: [TestFirm, string][] = [];
  unknown.add('sounding');
  for (const one of [firm, other]) {
    const { drafts, ids } = visitDrafts(one);
    const crew = await one.client('crew', one.ids.phone);
    await crew.push(...drafts);
    const [id, observed] = [v7(), one.observed(minute(2))];
    await pushNewer(crew, { kind: 'sounding', id, set: { visit: ids.visit, depthToBottomFt: '61.0', observed } });
    pushed.push([one, id]);
  }
  await upgraded();
  const [first, second] = pushed.toSorted(([a], [b]) => (a.id < b.id ? -1 : 1)) as [
    [TestFirm, string],
    [TestFirm, string],
  ];
  const log = { info: vi.fn(), error: vi.fn() };
  const options = { database: db, now: () => new Date(firm.nowMs), log: log as never };
  const mend = await failingFirm(db, 'ledger', first[0].id);
  await takeUpAll(options);
  await mend();
  expect(log.error.mock.calls[0]?.[0]).toEqual({ firm: first[0].id, setAside: expect.any(String), error: CURSED });
  expect([await stateOf(first[1], first[0].id), await stateOf(second[1], second[0].id)]).toMatchObject([
    undefined,
    { rev: 1 },
  ]);
  await takeUpAll(options);
  expect(await stateOf(first[1], first[0].id)).toMatchObject({ rev: 1 });
  await clean();
});

it.each(['P0001', '57014'])(
  '[W9] a line that fails by itself (%s) ends no round, is told, and is tried again',
  async (code) => {
    unknown.add('sounding');
    const crew = await firm.client('crew', firm.ids.phone);
    const [bad, good] = [v7(), v7()];
    const { outcomes } = await pushNewer(crew, sounding(bad, '60.1'), sounding(good, '60.2'));
    await upgraded();
    const owner = await db.owner();
    await owner.query(`create function one_fails() returns trigger language plpgsql as $$
begin
  if new.record = '${bad}' then raise exception 'too much' using errcode = '${code}'; end if;
  return new;
end $$; create trigger one_fails before insert on ledger for each row execute function one_fails()`);
    const failed = vi.fn();
    expect(await takeUp({ ...context(), failed }, firm.id)).toBe(1);
    expect(await stateOf(good)).toMatchObject({ rev: 1 });
    expect(failed.mock.calls).toEqual([[outcomes[0]?.setAside, expect.objectContaining({ message: 'too much' })]]);
    await owner.query('drop function one_fails cascade');
    await owner.end();
    expect(await takeUp(context(), firm.id)).toBe(1);
    expect(await stateOf(bad)).toMatchObject({ rev: 1 });
    await clean();
  },
);

it('[W14] a database that is away ends the round, and nothing counts as tried', async () => {
  unknown.add('sounding');
  const crew = await firm.client('crew', firm.ids.phone);
  const id = v7();
  await pushNewer(crew, sounding(id, '60.3'));
  await upgraded();
  const owner = await db.owner();
  await owner.query(`create function away() returns trigger language plpgsql as $$
begin raise exception 'going down' using errcode = '57P01'; end $$;
create trigger away before insert on ledger for each row execute function away()`);
  const failed = vi.fn();
  await expect(takeUp({ ...context(), failed }, firm.id)).rejects.toThrow('going down');
  await owner.query('drop function away cascade');
  await owner.end();
  expect(failed).not.toHaveBeenCalled();
  expect(await takeUp(context(), firm.id)).toBe(1);
  expect(await stateOf(id)).toMatchObject({ rev: 1 });
});

it('[V6] a coordinator may release it too, once the server can read it', async () => {
  unknown.add('sounding');
  const crew = await firm.client('crew', firm.ids.phone);
  const id = v7();
  const { outcomes } = await pushNewer(crew, sounding(id, '61.5'));
  await upgraded();
  const release: Draft = { verb: 'release', kind: 'set-aside', id: outcomes[0]?.setAside ?? '' };
  expect((await office.push(release))[0]).toMatchObject({ outcome: 'applied', id });
  expect(await stateOf(id)).toMatchObject({ client: crew.id, fields: { depthToBottomFt: '61.5' } });
  expect(await takeUp(context(), firm.id)).toBe(0);
});

it('[V6] what is still not readable goes on waiting byte for byte, and stops nothing', async () => {
  unknown.add('sounding');
  const crew = await firm.client('crew', firm.ids.phone);
  const [good, odd] = [v7(), v7()];
  const { outcomes } = await pushNewer(
    crew,
    { kind: 'sounding', id: odd, set: { visit, depthToBottomFt: 61.6, observed: firm.observed(minute(2)) } },
    sounding(good),
    // of a visit that is nowhere
    { kind: 'sounding', id: v7(), set: { visit: v7(), depthToBottomFt: '1', observed: firm.observed(minute(2)) } },
  );
  expect(new Set(outcomes.map(({ code }) => code))).toEqual(new Set(['newer_server_needed']));
  await upgraded();
  expect(await takeUp(context(), firm.id)).toBe(1);
  expect([await stateOf(good), await stateOf(odd)]).toMatchObject([{ rev: 1 }, undefined]);
  const row = await keptRow(outcomes[0]);
  expect(row).toMatchObject({ code: 'newer_server_needed', standing: 'kept' });
  expect(JSON.parse(String(row?.raw))).toMatchObject({ set: { depthToBottomFt: 61.6 } });
  await clean();
});

it('[V6] [W8] what was taken up and lacks its parent is applied when that comes, and not only at the next start', async () => {
  unknown.add('sounding');
  const crew = await firm.client('crew', firm.ids.phone);
  const { drafts, ids } = visitDrafts(firm);
  const id = v7();
  const set = { visit: ids.visit, depthToBottomFt: '61.3', observed: firm.observed(minute(2)) };
  const { outcomes } = await pushNewer(crew, { kind: 'sounding', id, set });
  await upgraded();
  expect(await takeUp(context(), firm.id)).toBe(0);
  expect(await keptRow(outcomes[0])).toMatchObject({ standing: 'waiting' });
  await crew.push(...drafts);
  expect(await stateOf(id)).toMatchObject({ rev: 1, fields: { depthToBottomFt: '61.3' } });
  expect(await keptRow(outcomes[0])).toMatchObject({ standing: 'released' });
  await clean();
});

it('[V6] [W11] what waits for it and is refused by the database does not keep it out', async () => {
  unknown.add('sounding');
  const crew = await firm.client('crew', firm.ids.phone);
  const [id, bad] = [v7(), v7()];
  await pushNewer(crew, sounding(id, '61.2'));
  const observed = firm.observed(minute(3));
  const level = { visit, purpose: 'synoptic', state: 'measured', depthToWaterFt: '11.20', observed, remark: 'cursed' };
  const [waits] = await crew.push({ kind: 'water-level', id: bad, set: level, requires: [id] });
  expect(waits).toMatchObject({ code: 'parent_missing' });
  await (await db.owner()).query(`alter table water_level add constraint no_cursed_value check (remark <> 'cursed')`);
  await upgraded();
  expect(await takeUp(context(), firm.id)).toBe(1);
  expect([await stateOf(id), await stateOf(bad)]).toMatchObject([{ rev: 1 }, undefined]);
  expect(await keptRow(waits)).toMatchObject({ standing: 'waiting' });
  await clean();
});

/** Lines that are set aside, thousands of them. */
async function manySetAside(client: string, count: number, code: string, raw: string): Promise<void> {
  await db.bypass.query(
    `insert into set_aside (firm, id, client, mutation, role, raw, outcome, code, detail, standing, schema_version,
  received_at)
select $1, gen_random_uuid(), $2, n + 10, 'crew', convert_to($5, 'UTF8'), 'set_aside', $4, '', 'kept', $6,
  '2026-05-04T12:00:00Z'
from generate_series(1, $3) n`,
    [firm.id, client, count, code, raw, NEWER],
  );
}

/** How the database answers what is asked of the lines that wait. */
async function planOf(version: number): Promise<string> {
  return inRead(db.pool, firm.id, async ({ client, firm: id }) => {
    const query = ({ text, values }: { text: string; values: unknown[] }) =>
      client.query(`explain (analyze, costs off, timing off) ${text}`, values);
    const rows = await newerSetAside({ client: { query } as never, firm: id }, { version, after: null, limit: 50 });
    return rows.map((row) => Object.values(row)[0]).join('\n');
  });
}

it('[V6] what cannot be read is read once by each version of the server, in parts, and all else that is set aside costs nothing', async () => {
  const [mine, other] = [await firm.client('crew', firm.ids.phone), await firm.client('crew', firm.ids.otherPhone)];
  await mine.push({ kind: 'note', set: {} });
  await other.push({ kind: 'note', set: {} });
  await manySetAside(other.id, 20_000, 'shape_wrong', '{}');
  await manySetAside(mine.id, 130, 'newer_server_needed', '{"not": "yet"}');
  const plan = await planOf(SCHEMA_VERSION);
  expect(plan).toContain('set_aside_newer');
  expect(plan).not.toMatch(/Seq Scan on set_aside|Rows Removed/);
  const tried = async () => {
    const text = `select tried_version as version, count(*) as n from set_aside where client = $1 group by 1`;
    return (await db.bypass.query(text, [mine.id])).rows;
  };
  expect(await takeUp(context(), firm.id)).toBe(0);
  expect(await tried()).toContainEqual({ version: SCHEMA_VERSION, n: 130 });
  const { sent } = await statementsOf(() => takeUp(context(), firm.id));
  expect(sent.filter((text) => text.includes('set_aside'))).toHaveLength(1);
  await upgraded();
  const again = await statementsOf(() => takeUp(context(), firm.id));
  expect(again.sent.filter((text) => text.includes('generate_series'))).toHaveLength(3);
});
