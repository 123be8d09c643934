import { afterAll, beforeAll, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { oneGroup } from '../support/one-group.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type TestClient, TestFirm } from '../support/test-firm.ts';
import { visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
});
afterAll(() => db.drop());

it.each(['south', 'north'] as const)(
  '[E5] [W16] an assignment that ends in the same transaction is that of the crew: %s',
  async (name) => {
    const phone = name === 'north' ? firm.ids.phone : firm.ids.otherPhone;
    const crew = await firm.client('crew', phone);
    const { rows } = await db.bypass.query<{ id: string }>(
      'select id from assignment where firm = $1 and crew = $2 and not voided',
      [firm.id, firm.ids[name]],
    );
    const [own] = rows;
    expect(rows).toHaveLength(1);
    const end = { verb: 'void', kind: 'assignment', id: own?.id ?? '', reason: 'needed elsewhere' };
    const { drafts, ids } = visitDrafts(firm);
    const pushOf = (client: TestClient, ...lines: readonly Parameters<TestClient['line']>[0][]) => {
      const first = client.next;
      return batchOf(
        client.actor,
        client.id,
        first,
        lines.map((draft) => client.line(draft)),
      );
    };
    await oneGroup(firm, pushOf(office, end), pushOf(crew, ...drafts.slice(0, 1)));
    const text = 'select state from ledger where firm = $1 and record = $2';
    const [visit] = (await db.bypass.query(text, [firm.id, ids.visit])).rows;
    expect(visit?.state.afterAssignment).toEqual({ assignment: own?.id, ended: new Date(firm.nowMs).toISOString() });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  },
);
