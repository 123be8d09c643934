import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { cleanDay } from '../rules/equipment/crew-day.ts';
import { PLANTED } from '../rules/equipment/planted-faults.ts';
import { CHANGING, changeOf } from '../support/equipment-changes.ts';
import { recordLevels, recordSteps } from '../support/equipment-drafts.ts';
import { EquipmentFirm } from '../support/equipment-firm.ts';
import { seeded } from '../support/faulty-pool.ts';
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

describe('what is corrected later', () => {
  it('[D8] leaves nothing behind that deriving the whole firm anew would not give, whatever is changed', async () => {
    const firm = await aFirm();
    await firm.push(firm.draftsOf(aDay(...Object.keys(PLANTED))));
    const chance = seeded(20_261_127);
    let taken = 0;
    for (let turn = 0; turn < 30; turn += 1) {
      const stored = await firm.stored(CHANGING);
      const drafts = Array.from({ length: 1 + Math.floor(chance() * 8) }, () => changeOf(stored, chance));
      const outcomes = (await firm.clients[turn % 3]?.push(...drafts)) ?? [];
      taken += outcomes.filter(({ outcome }) => outcome !== 'set_aside' && outcome !== 'refused').length;
      const differences = await firm.differences();
      expect({ turn, drafts, differences }).toEqual({ turn, drafts, differences: [] });
    }
    expect(taken).toBeGreaterThan(60);
  }, 180_000);
});
