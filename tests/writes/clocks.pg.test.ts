import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { firmLock } from '../../src/store/write/transaction.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type OutcomeLike, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts, readingDraft, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

const HOUR = 3_600_000;

const BOOT_MS = Date.parse(minute(-120));

/** Pushes as a phone whose wall clock is off by so much, in one boot, that captured each record when it was observed. */
async function pushOff(
  firm: TestFirm,
  client: TestClient,
  offMs: number,
  drafts: readonly Draft[],
): Promise<OutcomeLike[]> {
  const at = (ms: number) => {
    return { wall: new Date(ms + offMs).toISOString(), monotonicMs: ms - BOOT_MS, boot: 'boot-1' };
  };
  const first = client.next;
  const lines = drafts.map((draft, place) => {
    const seen = (draft.set?.observed as { at: string } | undefined)?.at ?? minute(place);
    return client.line({ ...draft, clock: { ...at(Date.parse(seen)), sequence: first + place } });
  });
  const batch = batchOf(client.actor, client.id, first, lines);
  return client.outcomes(await firm.lane({ ...batch, sent: at(firm.nowMs) }));
}

async function aFirm(): Promise<{ firm: TestFirm; phone: TestClient }> {
  const firm = new TestFirm(db.pool);
  await firm.setUp();
  return { firm, phone: await firm.client('crew', firm.ids.phone) };
}

interface StoredFlag {
  readonly id: string;
  readonly rev: number;
  readonly fields: Readonly<Record<string, unknown>>;
}

async function clockFlags(firm: TestFirm): Promise<StoredFlag[]> {
  const text = `select h.id, h.rev, l.state->'fields' as fields from head h
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.kind = 'flag' and not h.gone and l.state->'fields'->>'rule' = 'device-clock-off'
order by l.seq`;
  return (await db.bypass.query<StoredFlag>(text, [firm.id])).rows;
}

describe('a phone whose clock is wrong', () => {
  it('[D4] is noted once a device and day, and every mutation is taken', async () => {
    const { firm, phone } = await aFirm();
    const { ids, drafts } = purgeDrafts(firm);
    const outcomes = await pushOff(firm, phone, -3 * HOUR, drafts);
    expect(outcomes.map((one) => one.outcome)).toEqual(Array(6).fill('applied'));
    await pushOff(firm, phone, -3 * HOUR, [readingDraft(firm, ids.purge, 25)]);
    const flags = await clockFlags(firm);
    expect(flags).toHaveLength(1);
    expect(flags[0]).toMatchObject({
      rev: 1,
      fields: { subject: firm.ids.phone, severity: 'note', standing: 'raised' },
    });
    expect(flags[0]?.fields.sentence).toContain('3 hours 0 minutes behind');
    firm.nowMs += 24 * HOUR;
    await pushOff(firm, phone, -3 * HOUR, [readingDraft(firm, ids.purge, 24 * 60 + 5)]);
    expect(await clockFlags(firm)).toHaveLength(2);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D4] is noted by the largest difference of the day, whatever the order of the pushes', async () => {
    const sentences = [];
    for (const order of [
      [-3, -1],
      [-1, -3],
    ]) {
      const { firm, phone } = await aFirm();
      const { ids, drafts } = visitDrafts(firm);
      await phone.push(...drafts);
      for (const hours of order) await pushOff(firm, phone, hours * HOUR, [readingDraft(firm, ids.purge, 5 - hours)]);
      const [flag] = await clockFlags(firm);
      sentences.push(flag?.fields.sentence);
    }
    expect(sentences[0]).toBe(sentences[1]);
    expect(sentences[0]).toContain('3 hours');
  });

  it('[D4] is not noted for ten minutes, which is ordinary for phones', async () => {
    const { firm, phone } = await aFirm();
    await pushOff(firm, phone, 600_000, visitDrafts(firm).drafts);
    expect(await clockFlags(firm)).toEqual([]);
    await pushOff(firm, phone, 600_001, visitDrafts(firm).drafts);
    expect((await clockFlags(firm))[0]?.fields.sentence).toContain('10 minutes ahead');
  });

  it('[D4] can be reviewed, and a larger difference of that day raises the note again', async () => {
    const { firm, phone } = await aFirm();
    await pushOff(firm, phone, -HOUR, visitDrafts(firm).drafts);
    const [flag] = await clockFlags(firm);
    const office = await firm.client('coordinator');
    const { evidenceHash } = flag?.fields ?? {};
    const review = { flag: flag?.id, evidenceHash, decision: 'acted-on', observed: firm.observed(minute(60)) };
    const [outcome] = await office.push({ kind: 'flag-review', set: review });
    expect(outcome).toMatchObject({ outcome: 'applied' });
    expect((await clockFlags(firm))[0]?.fields).toMatchObject({ standing: 'reviewed', review: outcome?.id });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    await pushOff(firm, phone, -2 * HOUR, visitDrafts(firm).drafts);
    expect((await clockFlags(firm))[0]?.fields).toMatchObject({ standing: 'raised' });
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D5] changes no assessment: only the difference itself is kept beside each record', async () => {
    const assessments = [];
    for (const hours of [0, -3, 3, 24 * 365]) {
      const { firm, phone } = await aFirm();
      const { ids, drafts } = purgeDrafts(firm);
      await pushOff(firm, phone, hours * HOUR, drafts);
      const text = `select l.state->'fields' as fields from head h
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.kind = 'assessment' and not h.gone`;
      const { rows } = await db.bypass.query<{ fields: { stable: boolean } }>(text, [firm.id]);
      const named = new Map([[ids.purge, 'purge'], ...drafts.map((draft, at) => [draft.id, `#${at}`] as const)]);
      const plain = [...named].reduce((json, [id, name]) => json.replaceAll(id ?? '', name), JSON.stringify(rows));
      assessments.push(plain);
      expect(rows[0]?.fields.stable).toBe(true);
      const clock = `select distinct (state->'clock'->>'differenceMs')::bigint as ms from ledger
where firm = $1 and kind = 'reading'`;
      expect((await db.bypass.query(clock, [firm.id])).rows).toEqual([{ ms: 0 - hours * HOUR }]);
    }
    expect(new Set(assessments).size).toBe(1);
  });

  it('[D5] [F3] a push that waited for the lock is dated when it had it, and its clock is measured when it came', async () => {
    const { firm, phone } = await aFirm();
    const arrived = firm.nowMs;
    const other = await db.bypass.connect();
    await other.query(`begin; ${firmLock(firm.id)}`);
    const pushed = [pushOff(firm, phone, -HOUR, visitDrafts(firm).drafts)];
    // of another phone, which waits for the first within the process
    const second = await firm.client('crew', firm.ids.otherPhone);
    pushed.push(pushOff(firm, second, -HOUR, visitDrafts(firm).drafts));
    const waits = `select 1 from pg_locks where locktype = 'advisory' and not granted
and database = (select oid from pg_database where datname = current_database())`;
    await vi.waitFor(async () => expect((await db.bypass.query(waits)).rowCount).toBe(1), 10_000);
    firm.nowMs += 120_000;
    await other.query('rollback');
    other.release();
    await Promise.all(pushed);
    const rows = `select client, received_at as at, (state->'clock'->>'differenceMs')::bigint as ms from ledger
where firm = $1 and client = any($2) group by 1, 2, 3`;
    const clients =
      'select id as client, pushed_at as at, difference_ms as ms from client where firm = $1 and id = any($2)';
    const of = [phone.id, second.id];
    const at = new Date(arrived + 120_000).toISOString().replace('.000', '');
    const expected = of.map((client) => ({ client, at, ms: HOUR }));
    const noted = await db.bypass.query(clients, [firm.id, of]);
    expect(new Set(noted.rows)).toEqual(new Set(expected));
    const { rows: kept } = await db.bypass.query(rows, [firm.id, of]);
    expect(new Set(kept)).toEqual(new Set(expected));
  });
});
