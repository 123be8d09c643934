import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readSamplingFacts } from '../../src/reads/sampling-plan.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';

let db: TestDatabase;
let firm: TestFirm;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
});
afterAll(() => db.drop());

it('days of pumps are those at the site, however the offset of an instant is written', async () => {
  const { event, lone, north } = firm.ids;
  const [pump, visit] = [v7(), v7()];
  // half past seven in the evening of the fourth and of the fifth of May, there
  const [evening, next] = ['2026-05-05T00:30:00Z', '2026-05-06T00:30:00Z'];
  const set = { label: 'P-1', type: 'bladder-pump', use: 'shared', ownership: 'owned' };
  const arrived = { event, well: lone, crew: north, method: 'low-flow', arrived: evening };
  const outcomes = await (await firm.client('admin')).push(
    { kind: 'unit', id: pump, set },
    {
      kind: 'sign-out',
      set: { unit: pump, crew: north, from: evening, until: next, observed: firm.observed(evening) },
    },
    { kind: 'visit', id: visit, set: arrived },
    { kind: 'pump-set-up', set: { visit, pump, observed: firm.observed(evening) } },
  );
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
  const { pumps, pumpDays } = await readSamplingFacts(db, await firm.actor('coordinator'), event);
  expect(pumps).toMatchObject([{ unit: pump, from: '2026-05-04', until: '2026-05-05' }]);
  expect(pumpDays).toEqual([{ unit: pump, label: 'P-1', day: '2026-05-04' }]);
});
