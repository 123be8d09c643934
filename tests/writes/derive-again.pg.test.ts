import { v7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { Derived } from '../../src/rules/derive/derived.ts';
import { Overlay } from '../../src/rules/overlay.ts';
import { heldById } from '../../src/store/write/load-held.ts';
import { inWrite } from '../../src/store/write/transaction.ts';
import { deriveAgain } from '../../src/writes/derive-again.ts';
import { writeDerived } from '../../src/writes/derive-group.ts';
import { openGroup } from '../../src/writes/group.ts';
import { GroupWriter } from '../../src/writes/group-writer.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { historyFaults } from '../support/history-check.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts } from '../support/visit-drafts.ts';

const DERIVED = ['assessment', 'flag', 'conflict', 'visit-summary'];

let db: TestDatabase;
let firm: TestFirm;
let crew: TestClient;
let other: TestClient;
let reading: string;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

const now = () => new Date(firm.nowMs);

async function amend(
  client: TestClient,
  kind: string,
  id: string,
  set: Readonly<Record<string, unknown>>,
): Promise<void> {
  await client.push({ verb: 'amend', kind, id, base: { rev: 1 }, set, reason: 'read again' });
}

/** A firm with everything that is derived: a flag, conflicts in and beside a visit, clashing claims, summaries, a wrong clock. */
beforeEach(async () => {
  firm = new TestFirm(db.pool);
  const admin = await firm.setUp();
  crew = await firm.client('crew', firm.ids.phone);
  other = await firm.client('crew', firm.ids.otherPhone);
  const ended = { outcome: 'sampled', left: minute(40) };
  for (let visit = 0; visit < 25; visit++) await crew.push(...purgeDrafts(firm, ended).drafts);
  const { drafts } = purgeDrafts(firm, ended);
  await crew.push(...drafts);
  reading = drafts.at(-1)?.id ?? '';
  await amend(crew, 'reading', reading, { ph: '15.5' });
  await amend(other, 'reading', reading, { ph: '7.09' });
  const second = await firm.client('admin');
  await amend(admin, 'well', firm.ids.shallow, { totalDepthFt: '25.4' });
  await amend(second, 'well', firm.ids.shallow, { totalDepthFt: '25.6' });
  const { event, lone, north, south, pump, otherPump } = firm.ids;
  const claim = (who: string, own: string): Draft => {
    const set = { event, well: lone, crew: who, pump: own, from: minute(0), observed: firm.observed(minute(0)) };
    return { kind: 'well-claim', id: v7(), set };
  };
  await crew.push(claim(north, pump));
  await other.push(claim(south, otherPump));
  await db.bypass.query(`insert into device_clock values ($1, $2, '2026-05-04', 600000, 700000)`, [
    firm.id,
    firm.ids.phone,
  ]);
  await deriveAgain(db.pool, firm.id, now);
}, 60_000);

interface DerivedRow {
  readonly id: string;
  readonly kind: string;
  readonly rev: number;
  readonly feed: string;
  readonly text: string;
}

/** Every derived record that stands, with what it says. */
async function derivedRows(): Promise<DerivedRow[]> {
  const { rows } = await db.bypass.query<DerivedRow>(
    `select h.id, h.kind, h.rev, h.feed, (l.state -> 'fields')::text as text from head h
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and not h.gone and h.kind = any($2) order by h.id`,
    [firm.id, DERIVED],
  );
  return rows;
}

async function tails(): Promise<unknown[]> {
  const text = 'select feed, max(seq) as seq from ledger where firm = $1 group by feed order by feed';
  return (await db.bypass.query(text, [firm.id])).rows;
}

/** As older rules would have left it, by way of the write door: no summaries, no notes, other words, a rule too many. */
async function asOlder(): Promise<void> {
  const ids = (await derivedRows()).map(({ id }) => id);
  await inWrite(db.pool, firm.id, async (tx) => {
    const stored = await heldById(tx, ids);
    const [overlay, hashes] = [new Overlay(), new Map<string, Buffer>()];
    for (const held of stored) {
      overlay.load(held);
      hashes.set(`${held.feed} ${held.state.id}`, held.rowHash);
    }
    const gathered = { waiting: [], released: new Map(), affected: [], clashing: [], again: [], units: [], events: [] };
    const parts = { clients: new Map(), receipts: new Map(), batches: [], fresh: [] };
    const group = openGroup({ overlay, hashes, gathered, ...parts });
    const wanted = stored.flatMap(({ state, feed, parent, visit }): Derived[] => {
      const { kind, id, fields } = state;
      if (kind === 'visit-summary' || kind === 'conflict') return [];
      if (kind === 'assessment') return [{ kind, id, fields: { ...fields, readingsNeeded: 9 }, feed, parent, visit }];
      if (fields.rule === 'device-clock-off') return [];
      const more = { kind, id: v7(), fields: { ...fields, rule: 'a-rule-that-went' }, feed, parent, visit };
      return [{ kind, id, fields, feed, parent, visit }, more];
    });
    writeDerived(group, stored, wanted);
    await new GroupWriter(tx, group, now().toISOString()).finish();
  });
}

describe('deriving again after an upgrade', () => {
  it('brings every derived record to the rules of today, in the history of its feed', async () => {
    const before = await derivedRows();
    const kinds = (kind: string) => before.filter((row) => row.kind === kind).length;
    expect(DERIVED.map((kind) => kinds(kind) > 0)).toEqual([true, true, true, true]);
    expect(kinds('visit-summary')).toBe(26);
    expect(new Set(before.filter(({ kind }) => kind === 'conflict').map(({ text }) => JSON.parse(text).type))).toEqual(
      new Set(['field', 'well-claim']),
    );
    expect(before.map(({ text }) => JSON.parse(text).rule)).toContain('device-clock-off');
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    await asOlder();
    const differences = await recompute(db.pool, firm.id);
    expect([...new Set(differences.map(({ what }) => what))]).toEqual(['derived']);
    expect(new Set(differences.map(({ kind }) => kind))).toEqual(new Set(DERIVED));

    const changes = await deriveAgain(db.pool, firm.id, now);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
    const after = await derivedRows();
    const said = (rows: readonly DerivedRow[]) => rows.map(({ id, kind, feed, text }) => ({ id, kind, feed, text }));
    expect(said(after)).toEqual(said(before));
    expect(changes.get('visit-summary')).toEqual({ written: 26, withdrawn: 0 });
    expect(changes.get('assessment')).toEqual({ written: kinds('assessment'), withdrawn: 0 });
    expect(changes.get('conflict')).toEqual({ written: kinds('conflict'), withdrawn: 0 });
    expect(changes.get('flag')?.withdrawn).toBeGreaterThan(0);
    // one that was gone and comes back goes on in its revisions
    const revs = new Map(before.map(({ id, rev }) => [id, rev]));
    for (const { id, kind, rev } of after.filter((row) => row.kind !== 'flag')) {
      expect([kind, rev > (revs.get(id) ?? 0)]).toEqual([kind, true]);
    }
  });

  it('changes nothing where nothing differs, and nothing when it is done again', async () => {
    const untouched = await tails();
    expect(await deriveAgain(db.pool, firm.id, now)).toEqual(new Map());
    expect(await tails()).toEqual(untouched);
    await asOlder();
    expect((await deriveAgain(db.pool, firm.id, now)).size).toBe(4);
    const done = await tails();
    expect(await deriveAgain(db.pool, firm.id, now)).toEqual(new Map());
    expect(await tails()).toEqual(done);
  });

  it('touches no other firm', async () => {
    await asOlder();
    const stale = await tails();
    const neighbour = new TestFirm(db.pool);
    await neighbour.setUp();
    expect(await deriveAgain(db.pool, neighbour.id, now)).toEqual(new Map());
    expect(await tails()).toEqual(stale);
  });

  it('goes on beside a server that writes, whose memory of the records is then out of date', async () => {
    await asOlder();
    const writing = async () => {
      for (let round = 0; round < 12; round++) {
        await crew.push(...purgeDrafts(firm, { outcome: 'sampled', left: minute(50) }).drafts);
        await other.push({
          verb: 'amend',
          kind: 'reading',
          id: reading,
          set: { ph: `7.${10 + round}` },
          reason: 'again',
        });
      }
    };
    await Promise.all([writing(), deriveAgain(db.pool, firm.id, now), deriveAgain(db.pool, firm.id, now)]);
    await amend(crew, 'reading', reading, { turbidityNtu: '9.9' });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
  }, 60_000);
});
