import { v7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { historyFaults } from '../support/history-check.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let reading: string;
let purge: string;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

/** A firm with a purge, a correction, a conflict, a decided conflict, a flag, two clashing claims and a wrong clock. */
beforeEach(async () => {
  firm = new TestFirm(db.pool);
  await firm.setUp();
  const crew = await firm.client('crew', firm.ids.phone);
  const other = await firm.client('crew', firm.ids.otherPhone);
  const { ids, drafts } = purgeDrafts(firm);
  await crew.push(...drafts);
  purge = ids.purge;
  reading = drafts.at(-1)?.id ?? '';
  const amend = (client: TestClient, id: string, ph: string) =>
    client.push({ verb: 'amend', kind: 'reading', id, base: { rev: 1 }, set: { ph }, reason: 'misread' });
  await amend(crew, reading, '15.5');
  await amend(other, reading, '7.09');
  await amend(crew, drafts.at(-2)?.id ?? '', '7.3');
  const { event, lone, north, south, pump, otherPump } = firm.ids;
  const claim = (who: string, own: string): Draft => {
    const set = { event, well: lone, crew: who, pump: own, from: minute(0), observed: firm.observed(minute(0)) };
    return { kind: 'well-claim', id: v7(), set };
  };
  await crew.push(claim(north, pump));
  await other.push(claim(south, otherPump));
});

interface Tampering {
  readonly what: string;
  readonly text: string;
  readonly values: () => unknown[];
  readonly found: readonly string[];
}

const NEWEST = `(firm, feed, seq) in (select h.firm, h.feed, h.seq from head h where h.firm = $1 and not h.gone`;

const TAMPERINGS: readonly Tampering[] = [
  {
    what: 'what an assessment says',
    text: `update ledger set state = replace(state::text, '"readingsNeeded":3', '"readingsNeeded":9')::json where ${NEWEST} and h.kind = 'assessment')`,
    values: () => [firm.id],
    found: ['derived', 'head', 'history'],
  },
  {
    what: 'a value in the newest state of a reading',
    text: `update ledger set state = replace(state::text, '"ph":"7.09"', '"ph":"7.08"')::json where ${NEWEST} and h.id = $2)`,
    values: () => [firm.id, reading],
    found: ['derived', 'head', 'history', 'record'],
  },
  {
    what: 'a value that a correction set',
    text: `update ledger set intent = replace(intent::text, '15.5', '14.5')::json where firm = $1 and record = $2`,
    values: () => [firm.id, reading],
    found: ['derived', 'merge'],
  },
  {
    what: 'a conflict that is taken out of sight',
    text: `update head set gone = true where firm = $1 and kind = 'conflict' and parent = $2`,
    values: () => [firm.id, reading],
    found: ['head'],
  },
  {
    what: 'a conflict that is deleted, with its history',
    text: `with c as (delete from head where firm = $1 and kind = 'conflict' and parent = $2 returning id)
delete from ledger where firm = $1 and record in (select id from c)`,
    values: () => [firm.id, reading],
    found: ['derived', 'history'],
  },
  {
    what: 'a flag that nothing gives rise to',
    text: `with f as (select * from ledger where firm = $1 and kind = 'conflict' and record in
  (select id from head where parent = $2) order by seq limit 1), g as (
insert into ledger select firm, feed, 100000, '00000000-0000-5000-8000-000000000001', kind, 1,
  replace(state::text, record::text, '00000000-0000-5000-8000-000000000001')::json, null, null, null, received_at, 1,
  content_hash, history_hash from f)
insert into head select f.firm, f.feed, '00000000-0000-5000-8000-000000000001', f.kind, 100000, 1, false, $2,
  h.visit, h.row_hash, null from f join head h on h.id = f.record`,
    values: () => [firm.id, reading],
    found: ['derived', 'head', 'history'],
  },
  {
    what: 'what is remembered for merging',
    text: `update head set merge = replace(merge::text, '7.09', '7.90')::json where firm = $1 and id = $2`,
    values: () => [firm.id, reading],
    found: ['merge'],
  },
  {
    what: 'where a record lives',
    text: `update head set visit = null where firm = $1 and id = $2`,
    values: () => [firm.id, reading],
    found: ['place'],
  },
  {
    what: 'to which purge a reading is said to belong',
    text: `update head set parent = id where firm = $1 and id = $2`,
    values: () => [firm.id, reading],
    found: ['place'],
  },
  {
    what: 'a record that the ledger never had',
    text: `insert into head select firm, feed, gen_random_uuid(), kind, 90000, 1, false, parent, visit, row_hash, null
from head where firm = $1 and id = $2`,
    values: () => [firm.id, reading],
    found: ['head'],
  },
  {
    what: 'the hash of a row',
    text: `update head set row_hash = decode('0123456789abcdef', 'hex') where firm = $1 and id = $2`,
    values: () => [firm.id, purge],
    found: ['head'],
  },
  {
    what: 'the name of a crew in its newest state',
    text: `update ledger set state = replace(state::text, 'North crew', 'Nowhere crew')::json where firm = $1 and kind = 'crew'`,
    values: () => [firm.id],
    found: ['derived', 'head', 'history'],
  },
];

async function tamper(text: string, values: readonly unknown[]): Promise<void> {
  const owner = await db.owner();
  const triggers = ['ledger_append_only', 'ledger_no_truncate'];
  for (const name of triggers) await owner.query(`alter table ledger disable trigger ${name}`);
  const { rowCount } = await db.bypass.query(text, [...values]);
  for (const name of triggers) await owner.query(`alter table ledger enable trigger ${name}`);
  await owner.end();
  expect(rowCount).not.toBe(0);
}

describe('deriving a firm anew', () => {
  it('[D1] lists nothing where nobody tampered', async () => {
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
  });

  it.each(TAMPERINGS)('[D6] lists what somebody tampered with: $what', async ({ text, values, found }) => {
    await tamper(text, values());
    const differences = await recompute(db.pool, firm.id);
    expect([...new Set(differences.map((one) => one.what))].sort()).toEqual(found);
    expect(differences.every((one) => one.detail.length > 10)).toBe(true);
  });

  it('[D6] names the feed, the kind and the record', async () => {
    await tamper(`update head set merge = null where firm = $1 and id = $2`, [firm.id, reading]);
    expect(await recompute(db.pool, firm.id)).toEqual([
      { feed: `event:${firm.ids.event}`, kind: 'reading', id: reading, what: 'merge', detail: expect.any(String) },
    ]);
  });

  it('[F5] the history tells of every row that is changed, taken out or put in', async () => {
    const untouched = (await historyFaults(db.bypass, firm.id)).rows;
    expect(untouched).toBeGreaterThan(30);
    await tamper(
      `update ledger set state = replace(state::text, '7.01', '7.10')::json where firm = $1 and record = $2 and rev = 1`,
      [firm.id, reading],
    );
    const { faults } = await historyFaults(db.bypass, firm.id);
    expect(faults[0]).toContain('another history hash');
    const differences = await recompute(db.pool, firm.id);
    expect(differences).toContainEqual(expect.objectContaining({ what: 'history', kind: 'reading', id: reading }));
  });
});
