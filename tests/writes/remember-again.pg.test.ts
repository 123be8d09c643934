import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { rememberAgain } from '../../src/writes/remember-again.ts';
import { historyFaults } from '../support/history-check.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type TestClient, TestFirm } from '../support/test-firm.ts';

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
});
afterAll(() => db.drop());

/** A nest that one voids while another renames it, and nobody has decided between them. */
async function contested(): Promise<string> {
  const [one, other] = [await firm.client('coordinator'), await firm.client('coordinator')];
  const id = v7();
  await office.push({ kind: 'nest', id, set: { site: firm.ids.site, name: 'Nest 9' } });
  await one.push({ verb: 'void', kind: 'nest', id, base: { rev: 1 }, reason: 'entered twice' });
  await other.push({ verb: 'amend', kind: 'nest', id, base: { rev: 1 }, set: { name: 'Nest 10' } });
  return id;
}

/** As a version left it that remembered no rivals of a void. */
async function asAnOlderServerLeft(id: string): Promise<void> {
  const text = `update head set merge = (merge::jsonb - 'voidRivalFlips')::json
where firm = $1 and id = $2 and merge::jsonb ? 'voidRivalFlips'`;
  expect((await db.bypass.query(text, [firm.id, id])).rowCount).toBe(1);
}

it('[V10] what an older version did not remember for merging is replayed from the ledger, once', async () => {
  expect(await rememberAgain(db.pool, firm.id)).toBe(0);
  const [one, two] = [await contested(), await contested()];
  expect(await recompute(db.pool, firm.id)).toEqual([]);
  await asAnOlderServerLeft(one);
  await asAnOlderServerLeft(two);
  const named = (await recompute(db.pool, firm.id)).map(({ what, id }) => [what, id]);
  expect(new Map(named.map(([what, id]) => [id, what]))).toEqual(
    new Map([
      [one, 'merge'],
      [two, 'merge'],
    ]),
  );
  expect(await rememberAgain(db.pool, firm.id)).toBe(2);
  expect(await recompute(db.pool, firm.id)).toEqual([]);
  expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
  expect(await rememberAgain(db.pool, firm.id)).toBe(0);
});
