import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cleanDay } from '../rules/equipment/crew-day.ts';
import { PLANTED } from '../rules/equipment/planted-faults.ts';
import { recordLevels, recordSteps } from '../support/equipment-drafts.ts';
import { EquipmentFirm } from '../support/equipment-firm.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

const aFirm = () => new EquipmentFirm(db.pool, db.bypass).setUp();

function aDay(...planted: readonly string[]) {
  const given = cleanDay();
  for (const code of planted) PLANTED[code]?.(given);
  recordSteps(given.day);
  recordLevels(given);
  return given.day;
}

describe('a day of three crews with ten shared units, through the write door', () => {
  it('raises nothing of equipment where everything is as it should be', async () => {
    const firm = await aFirm();
    await firm.push(firm.draftsOf(aDay()));
    expect(await firm.flags()).toEqual([]);
    expect(await firm.differences()).toEqual([]);
  });

  it('finds every fault once where all are planted, and invents none', async () => {
    const firm = await aFirm();
    await firm.push(firm.draftsOf(aDay(...Object.keys(PLANTED))));
    expect(await firm.codes()).toEqual(Object.keys(PLANTED).toSorted());
    expect(await firm.differences()).toEqual([]);
  });

  it('[D8] ends with the same states and flags in any order of arrival and in any groups', async () => {
    const one = await aFirm();
    const drafts = one.draftsOf(aDay(...Object.keys(PLANTED)));
    await one.push(drafts);
    const [states, flags] = [await one.states(), await one.flags()];
    expect(states.length).toBeGreaterThan(10);
    for (const seed of [1, 2, 3]) {
      const other = await aFirm();
      await other.pushMixed(other.draftsOf(aDay(...Object.keys(PLANTED))), seed);
      expect(await other.differences()).toEqual([]);
      expect(await other.states()).toEqual(states);
      expect(await other.flags()).toEqual(flags);
    }
  }, 120_000);
});
