import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
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

describe('a record that names itself', () => {
  it('[W8] as its own parent is set aside, and its client goes on', async () => {
    const crew = await firm.client('crew', firm.ids.phone);
    const id = v7();
    const { lone: well, north } = firm.ids;
    const set = { well, crew: north, method: 'gauging', arrived: '2026-05-04T09:00:00Z' };
    const outcomes = await crew.push(
      { kind: 'visit', id, set: { ...set, event: id } },
      { kind: 'visit', set: { ...set, event: firm.ids.event } },
    );
    expect(outcomes.map((one) => [one.outcome, one.code])).toEqual([
      ['set_aside', 'parent_missing'],
      ['applied', undefined],
    ]);
  });
});

describe('a decision without a value', () => {
  it('[M8] clears no field that must stand', async () => {
    const [one, other, office] = await Promise.all([
      firm.client('crew'),
      firm.client('crew'),
      firm.client('coordinator'),
    ]);
    const id = v7();
    const set = { event: firm.ids.event, well: firm.ids.lone, crew: firm.ids.north, method: 'gauging' };
    await one.push({ kind: 'visit', id, set: { ...set, arrived: '2026-05-04T09:00:00Z' } });
    await one.push({ verb: 'amend', kind: 'visit', id, base: { rev: 1 }, set: { method: 'low-flow' } });
    const [rival] = await other.push({ verb: 'amend', kind: 'visit', id, base: { rev: 1 }, set: { method: 'volume' } });
    const conflict = rival?.conflicts?.[0];
    const resolve = { verb: 'resolve', kind: 'conflict', id: conflict ?? '', base: { rev: 1 } };
    const [outcome] = await office.push({ ...resolve, set: {} });
    expect(outcome).toMatchObject({ outcome: 'refused', code: 'unreadable_record' });
  });
});
