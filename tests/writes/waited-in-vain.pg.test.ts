import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Batch } from '../../src/writes/batch.ts';
import { oneGroup } from '../support/one-group.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
import { visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;
const [crew, stranger] = [v7(), v7()];

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
  await office.push(
    { kind: 'crew', id: crew, set: { name: 'Third crew' } },
    { kind: 'device', id: stranger, set: { label: 'Phone 3', crew } },
  );
});
afterAll(() => db.drop());

function pushOf(client: TestClient, ...drafts: readonly Draft[]): Batch {
  const first = client.next;
  const lines = drafts.map((draft) => client.line(draft));
  return batchOf(client.actor, client.id, first, lines);
}

async function rowsOf(client: TestClient) {
  const text = `select id, outcome, code, detail, standing, waits_for as "waitsFor" from set_aside
where firm = $1 and client = $2 order by mutation`;
  return (await db.bypass.query(text, [firm.id, client.id])).rows;
}

/** A visit, and what a crew without a right there says of it before it is here. */
async function early() {
  const phone = await firm.client('crew', stranger);
  const { drafts, ids } = visitDrafts(firm);
  const [visit] = drafts;
  const observed = firm.observed(new Date(firm.nowMs).toISOString());
  const sounding: Draft = { kind: 'sounding', id: v7(), set: { visit: ids.visit, depthToBottomFt: '39.9', observed } };
  return { phone, visit: visit as Draft, sounding };
}

it.each(['one group', 'several'])(
  '[W8] [E6] [W16] what waited for a record and has no right when that comes says so, and waits for a person: %s',
  async (how) => {
    const { phone, visit, sounding } = await early();
    const event = v7();
    const set = {
      site: firm.ids.site,
      name: 'Autumn round',
      starts: '2026-09-04',
      ends: '2026-09-05',
      standing: 'open',
    };
    await office.push({
      kind: 'event',
      id: event,
      set: { ...set, plan: { criteria: 'epa-region-1-low-stress-rev-4' } },
    });
    const pushes = [
      pushOf(phone, sounding),
      pushOf(office, { ...visit, set: { ...visit.set, event } }),
      pushOf(office, { kind: 'assignment', set: { event, crew, well: firm.ids.lone } }),
    ];
    if (how === 'one group') await oneGroup(firm, ...pushes);
    else for (const push of pushes) await firm.lane(push);
    const [row] = await rowsOf(phone);
    expect(row).toMatchObject({ outcome: 'set_aside', code: 'right_missing', standing: 'kept', waitsFor: [] });
    expect(row.detail).toContain('has no assignment');
    expect((await office.push({ verb: 'release', kind: 'set-aside', id: row.id }))[0]).toMatchObject({
      outcome: 'applied',
    });
    expect((await rowsOf(phone))[0]).toMatchObject({ standing: 'released' });
  },
);

it.each(['one group', 'several'])(
  '[W8] what waits for two records says which one it still waits for: %s',
  async (how) => {
    const phone = await firm.client('crew', firm.ids.phone);
    const { drafts, ids } = visitDrafts(firm);
    const [visit] = drafts;
    const other = v7();
    const observed = firm.observed(new Date(firm.nowMs).toISOString());
    const set = { visit: ids.visit, depthToBottomFt: '39.9', observed };
    const pushes = [
      pushOf(phone, { kind: 'sounding', id: v7(), set, requires: [other] }),
      pushOf(office, visit as Draft),
    ];
    if (how === 'one group') await oneGroup(firm, ...pushes);
    else for (const push of pushes) await firm.lane(push);
    const [row] = await rowsOf(phone);
    expect(row).toMatchObject({ code: 'parent_missing', standing: 'waiting', waitsFor: [other] });
    expect(row.detail).not.toContain(ids.visit);
    await office.push({ kind: 'member', id: other, set: { name: 'Cy Third', initials: 'CT', standing: 'active' } });
    expect((await rowsOf(phone))[0]).toMatchObject({ standing: 'released' });
  },
);
