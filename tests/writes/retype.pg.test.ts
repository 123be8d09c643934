import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { SCHEMA_VERSION } from '../../src/protocol/version.ts';
import { openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { retype } from '../../src/writes/retype.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type TestClient, TestFirm } from '../support/test-firm.ts';
import { purgeDrafts, readingDraft } from '../support/visit-drafts.ts';

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

it.each(['{"a":1}', '"five"', '7', '[]', 'true'])(
  '[V9] a kept value of another form (%s) keeps nobody from recording at its visit, and counts as missing',
  async (value) => {
    for (const field of ['turbidityNtu', 'ph', 'depthToWaterFt', 'overRange', 'meter', 'remark']) {
      const crew = await firm.client('crew', firm.ids.phone);
      const { ids, drafts } = purgeDrafts(firm);
      await crew.push(...drafts);
      await keep(String(drafts.at(-1)?.id), field, value);
      // as after a start, when nothing is remembered
      const lane = openLane({ pool: db.pool, now: () => new Date(firm.nowMs), committed: () => undefined });
      const next = crew.line(readingDraft(firm, ids.purge, 25));
      const correction = {
        verb: 'amend',
        kind: 'reading',
        id: drafts[2]?.id ?? '',
        set: { ph: '7.02' },
        reason: 'misread',
      };
      const lines = [next, crew.line(correction)];
      const outcomes = crew.outcomes(await lane(batchOf(crew.actor, crew.id, crew.next - 2, lines)));
      expect([field, ...outcomes.map(({ outcome }) => outcome)]).toEqual([field, 'applied', 'applied']);
    }
  },
);

/** As an older server kept a field that it did not know, under a name that is known by now. */
async function keep(id: string, field: string, value: string): Promise<void> {
  const owner = await db.owner();
  await owner.query('alter table ledger disable trigger user');
  const set =
    'update ledger set state = jsonb_set(state::jsonb, array[$3, $4], $5::jsonb)::json where firm = $1 and record = $2';
  await db.bypass.query(set, [firm.id, id, 'fields', field, value]);
  await owner.query('alter table ledger enable trigger user');
  await owner.end();
}
