import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { retype } from '../../src/writes/retype.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type TestClient, TestFirm } from '../support/test-firm.ts';
import { purgeDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
  const crew = await firm.client('crew', firm.ids.phone);
  await crew.push(...purgeDrafts(firm, {}).drafts);
});
afterAll(() => db.drop());

async function unit(id: string) {
  const text = 'select label, serial, maximum_depth_ft as depth, rev from unit where firm = $1 and id = $2';
  return (await db.bypass.query(text, [firm.id, id])).rows[0];
}

/** What an older server left: its table had no such column, so that nothing stands there. */
async function asAnOlderServerLeft(id: string): Promise<void> {
  await db.bypass.query('update unit set maximum_depth_ft = null where firm = $1 and id = $2', [firm.id, id]);
}

it('[V9] gives typed rows what their records say, once, and touches no other row', async () => {
  expect(await retype(db.pool, firm.id)).toEqual({ written: 0, unfit: [] });
  const set = { type: 'bladder-pump', label: 'P', use: 'shared', ownership: 'owned', maximumDepthFt: '200.5' };
  const [one, two] = [v7(), v7()];
  await office.push({ kind: 'unit', id: one, set }, { kind: 'unit', id: two, set: { ...set, label: 'Q' } });
  await asAnOlderServerLeft(one);
  expect(await unit(one)).toMatchObject({ label: 'P', depth: null });
  expect(await retype(db.pool, firm.id)).toEqual({ written: 1, unfit: [] });
  expect(await unit(one)).toMatchObject({ label: 'P', depth: '200.5', rev: 1 });
  expect(await unit(two)).toMatchObject({ label: 'Q', depth: '200.5' });
  expect(await retype(db.pool, firm.id)).toEqual({ written: 0, unfit: [] });
  expect(await recompute(db.pool, firm.id)).toEqual([]);
});

it('[V9] names the records whose kept field is of another form than it has by now, and gives the others their rows', async () => {
  const [good, bad] = [v7(), v7()];
  const set = { type: 'bladder-pump', label: 'M', use: 'shared', ownership: 'owned', laterFt: '5' };
  const lines = [good, bad].map((id) => office.line({ kind: 'unit', id, set }));
  const batch = batchOf(office.actor, office.id, office.next - 2, lines);
  const newer = batch.lines.map((line) => ({ ...line, version: SCHEMA_VERSION + 1 }));
  await firm.lane({ ...batch, lines: newer, schemaVersion: SCHEMA_VERSION + 1 });
  // by now the field is called otherwise, and one of the two was given in words
  const rename = `update ledger set state = replace(state::text, '"laterFt":"5"', $3)::json
where firm = $1 and record = $2`;
  const owner = await db.owner();
  await owner.query('alter table ledger disable trigger user');
  await db.bypass.query(rename, [firm.id, good, '"maximumDepthFt":"5"']);
  await db.bypass.query(rename, [firm.id, bad, '"maximumDepthFt":"five"']);
  await owner.query('alter table ledger enable trigger user');
  const { written, unfit } = await retype(db.pool, firm.id);
  expect(written).toBe(1);
  expect(unfit).toEqual([{ kind: 'unit', id: bad, why: expect.stringContaining('five') }]);
  expect([(await unit(good))?.depth, (await unit(bad))?.depth]).toEqual(['5', null]);
});
