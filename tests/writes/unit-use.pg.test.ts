import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let crew: TestClient;
let admin: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  admin = await firm.setUp();
  crew = await firm.client('crew');
});
afterAll(() => db.drop());

interface Placed {
  readonly feed: string;
  readonly gone: boolean;
  readonly visit: string | null;
}

async function headsOf(id: string): Promise<Placed[]> {
  const { rows } = await db.bypass.query<Placed>(
    'select feed, gone, visit from head where firm = $1 and id = $2 order by gone, feed',
    [firm.id, id],
  );
  return rows;
}

async function stateOf(unit: string): Promise<{ state: string; well: string | null }[]> {
  const { rows } = await db.bypass.query(
    'select state, well from unit_state where firm = $1 and unit = $2 and not voided',
    [firm.id, unit],
  );
  return rows;
}

/** A visit at which a pump is down the well, by a record of its use alone. */
async function used(unit: string) {
  const { ids, drafts } = visitDrafts(firm);
  const id = v7();
  const set = { visit: ids.visit, unit, how: 'down-the-well', from: minute(5), observed: firm.observed(minute(5)) };
  const outcomes = await crew.push(...drafts, { kind: 'unit-use', id, set });
  expect(outcomes.map(({ outcome }) => outcome)).toEqual(['applied', 'applied', 'applied']);
  return { visit: ids.visit, id };
}

describe('the use of a unit', () => {
  it('goes with its visit to the right well, and the unit is there', async () => {
    const { otherPump, lone, deep } = firm.ids;
    const { visit, id } = await used(otherPump);
    expect(await stateOf(otherPump)).toEqual([{ state: 'in-a-well', well: lone }]);
    const move = { verb: 'rehome', kind: 'visit', id: visit, base: { rev: 1 }, reason: 'the wrong well' };
    await admin.push({ ...move, set: { well: deep } });
    expect(await headsOf(id)).toEqual([{ feed: `event:${firm.ids.event}`, gone: false, visit }]);
    expect(await stateOf(otherPump)).toEqual([{ state: 'in-a-well', well: deep }]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('leaves the feed of the old event with its visit', async () => {
    const { site, event, otherMeter } = firm.ids;
    const other = v7();
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const dates = { starts: '2026-05-04', ends: '2026-05-05', standing: 'open' };
    await admin.push({ kind: 'event', id: other, set: { site, name: 'Extra', ...dates, plan } });
    const { visit, id } = await used(otherMeter);
    const move = { verb: 'rehome', kind: 'visit', id: visit, base: { rev: 1 }, reason: 'of the extra round' };
    await admin.push({ ...move, set: { event: other } });
    expect(await headsOf(id)).toEqual([
      { feed: `event:${other}`, gone: false, visit },
      { feed: `event:${event}`, gone: true, visit },
    ]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('counts for nothing once it is voided, or its visit is', async () => {
    const { pump } = firm.ids;
    const before = await stateOf(pump);
    const first = await used(pump);
    expect(await stateOf(pump)).toMatchObject([{ state: 'in-a-well' }]);
    await crew.push({ verb: 'void', kind: 'unit-use', id: first.id, base: { rev: 1 }, reason: 'another pump' });
    const without = await stateOf(pump);
    expect(without.map(({ state }) => state)).not.toContain('in-a-well');
    const second = await used(pump);
    await admin.push({ verb: 'void', kind: 'visit', id: second.visit, base: { rev: 1 }, reason: 'entered twice' });
    expect(await stateOf(pump)).toEqual(without);
    expect(before.map(({ state }) => state)).not.toContain('in-a-well');
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });
});
