import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Batch } from '../../src/writes/batch.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { oneGroup } from '../support/one-group.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
import { visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let office: TestClient;
/** A device of a crew that is assigned to nothing. */
const stranger = v7();

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  office = await firm.setUp();
  const crew = v7();
  await office.push(
    { kind: 'crew', id: crew, set: { name: 'Third crew' } },
    { kind: 'device', id: stranger, set: { label: 'Phone 3', crew } },
  );
});
afterAll(() => db.drop());

function pushOf(client: TestClient, drafts: readonly Draft[], more: Partial<Batch> = {}): Batch {
  const first = client.next;
  const lines = drafts.map((draft) => client.line(draft));
  return { ...batchOf(client.actor, client.id, first, lines), ...more };
}

/** The next lines of a client, as another token hands them in. */
async function copyOf(client: TestClient, drafts: readonly Draft[], by: TestClient): Promise<Batch> {
  return pushOf(client, drafts, { actor: by.actor, carried: true, schemaVersion: 3 });
}

async function clientRow(id: string) {
  const text = `select schema_version, unsent_count, unsent_oldest, difference_ms, pushed_at, last_mutation from client
where firm = $1 and id = $2`;
  return (await db.bypass.query(text, [firm.id, id])).rows[0];
}

async function stateOf(id: string) {
  const text = 'select state from ledger where firm = $1 and record = $2 order by rev desc limit 1';
  return (await db.bypass.query(text, [firm.id, id])).rows[0]?.state;
}

const UNSENT = { count: 3, oldest: '2026-05-04T09:00:00Z' };

it.each(['one group', 'two groups'])(
  '[W5] [W16] a copy says nothing of what its phone has unsent, of its app or when it was in touch: %s',
  async (how) => {
    const phone = await firm.client('crew', firm.ids.phone);
    const partner = await firm.client('crew', firm.ids.otherPhone);
    const { drafts } = visitDrafts(firm);
    const sent = { wall: new Date(firm.nowMs - 5_000).toISOString(), monotonicMs: 9, boot: v7() };
    const own = pushOf(phone, drafts.slice(0, 1), { unsent: UNSENT, sent, schemaVersion: 2 });
    const then = firm.nowMs;
    const carried = {
      ...(await copyOf(phone, drafts.slice(1, 2), partner)),
      sent: { ...sent, wall: '2020-01-01T00:00:00Z' },
    };
    if (how === 'one group') await oneGroup(firm, own, carried);
    else {
      await firm.lane(own);
      firm.nowMs += 60_000;
      await firm.lane(carried);
    }
    expect(await clientRow(phone.id)).toMatchObject({
      schema_version: 2,
      unsent_count: UNSENT.count,
      difference_ms: 5_000,
      last_mutation: 2,
    });
    const { unsent_oldest: oldest, pushed_at: pushed } = await clientRow(phone.id);
    expect([Date.parse(oldest), Date.parse(pushed)]).toEqual([Date.parse(UNSENT.oldest), then]);
  },
);

it('[W5] a client that only a copy named was never in touch itself', async () => {
  const phone = await firm.client('crew', firm.ids.phone);
  const partner = await firm.client('crew', firm.ids.otherPhone);
  const { drafts } = visitDrafts(firm);
  await firm.lane(await copyOf(phone, drafts.slice(0, 1), partner));
  expect(await clientRow(phone.id)).toMatchObject({ pushed_at: null, last_mutation: 1 });
  await firm.lane(pushOf(phone, drafts.slice(1, 2), { unsent: UNSENT }));
  expect(await clientRow(phone.id)).toMatchObject({ unsent_count: 3, last_mutation: 2, pushed_at: expect.anything() });
});

it.each(['one group', 'two groups'])(
  '[W16] [W5] an own first push and a copy of what comes after it are judged alike: %s',
  async (how) => {
    const phone = await firm.client('crew', firm.ids.phone);
    const partner = await firm.client('crew', stranger);
    const { drafts, ids } = visitDrafts(firm);
    const own = pushOf(phone, drafts.slice(0, 1));
    const carried = await copyOf(phone, drafts.slice(1, 2), partner);
    const all =
      how === 'one group' ? await oneGroup(firm, own, carried) : [await firm.lane(own), await firm.lane(carried)];
    expect(all.flatMap((answer) => phone.outcomes(answer))).toMatchObject([
      { outcome: 'applied' },
      { outcome: 'applied' },
    ]);
    expect(await stateOf(drafts[1]?.id ?? '')).toMatchObject({
      carriedBy: [{ device: stranger, right: false, rev: 1 }],
    });
    expect(await stateOf(ids.visit)).not.toHaveProperty('carriedBy');
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  },
);
