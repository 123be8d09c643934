import { v7 } from 'uuid';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { declareEpoch } from '../../src/store/backup/epochs.ts';
import { restoreBackup } from '../../src/store/backup/restore-backup.ts';
import { writeBackup } from '../../src/store/backup/write-backup.ts';
import { compact } from '../../src/writes/compact.ts';
import type { Difference } from '../../src/writes/difference.ts';
import { openLane } from '../../src/writes/lane.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { verifyFirm } from '../../src/writes/verify-firm.ts';
import { asOwner, folder } from '../store/backup/backup-world.ts';
import { ownMigrations, type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type OutcomeLike, TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts, readingDraft } from '../support/visit-drafts.ts';
import { EarlierTables, TYPED } from './earlier-tables.ts';

let db: TestDatabase;
let firm: TestFirm;
let crew: TestClient;
let office: TestClient;
let purge: string;
let visit: string;
let later: string;
let earlier: EarlierTables;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

/** A firm with a purge, a correction, a conflict, lines that were answered without a row, and one that waits. */
beforeEach(async () => {
  firm = new TestFirm(db.pool);
  const admin = await firm.setUp();
  crew = await firm.client('crew', firm.ids.phone);
  office = await firm.client('coordinator');
  later = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site: firm.ids.site, name: 'Later', starts: '2026-06-01', ends: '2026-06-02', standing: 'open', plan };
  await admin.push({ kind: 'event', id: later, set });
  const { ids, drafts } = purgeDrafts(firm, { outcome: 'sampled', left: minute(40) });
  ({ purge, visit } = ids);
  await crew.push(...drafts);
  const amend = { verb: 'amend', kind: 'purge', id: purge, base: { rev: 1 } };
  await crew.push({ ...amend, set: { remark: 'one' } });
  await (await firm.client('crew', firm.ids.otherPhone)).push({ ...amend, set: { remark: 'another' } });
  await crew.push({ kind: 'purge', set: { visit, began: 'never' } }, { kind: 'reading', set: { nothing: 1 } });
  earlier = await EarlierTables.of(db, firm.id);
});
afterEach(() => earlier.end());

async function tailOf(feed: string): Promise<number> {
  const text = 'select max(seq) as tail from ledger where firm = $1 and feed = $2';
  return (await db.bypass.query<{ tail: number }>(text, [firm.id, feed])).rows[0]?.tail ?? 0;
}

function verified(): Promise<Difference[]> {
  return verifyFirm(db.pool, firm.id);
}

function said(differences: readonly Difference[]): string {
  return differences.map(({ what, feed, detail }) => `${what} ${feed} ${detail}`).join('\n');
}

/** A change that no rule derives anything else from: what is left after it is cut off fits together. */
async function lastChange(client = crew): Promise<OutcomeLike> {
  const [outcome] = await client.push({
    verb: 'amend',
    kind: 'visit',
    id: visit,
    base: { rev: 1 },
    set: { outcomeReason: 'x' },
  });
  if (!outcome) throw new Error('nothing was answered');
  return outcome;
}

/** Everything that a row of the ledger leaves behind beside it, in the order in which a witness is silenced. */
const ROWS = ['ledger', 'head', 'feed_floor'];
const RECEIPTS = ['receipt', 'set_aside'];

describe('a ledger whose end was cut off', () => {
  it('[D6] is found by what a client was told, though every row, head and typed row that is left fits', async () => {
    const before = await tailOf(`event:${firm.ids.event}`);
    const { mutationId, feed, seq } = await lastChange();
    await earlier.putBack([...ROWS, ...TYPED]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    const found = await verified();
    expect(found).toMatchObject([{ what: 'history', feed, kind: 'visit', id: visit }]);
    expect(found[0]?.detail).toContain(
      `row ${seq} is not there, and the ledger ends at row ${before}; client ${crew.id} `,
    );
    expect(found[0]?.detail).toContain(`its mutation ${mutationId} of `);
  });

  it('[D6] is found by its last row alone', async () => {
    const { feed, seq } = await lastChange();
    await earlier.past(async (owner) => {
      await owner.query('delete from ledger where firm = $1 and feed = $2 and seq = $3', [firm.id, feed, seq]);
    });
    const found = await verified();
    expect(found.filter(({ what }) => what === 'head')).toHaveLength(1);
    expect(said(found)).toContain(`the ledger ends at row ${Number(seq) - 1}, its newest head is of row ${seq}`);
    expect(said(found)).toContain(`client ${crew.id} was told that its mutation`);
  });

  it('[D6] is found where it has grown again since', async () => {
    const { feed, seq, mutationId } = await lastChange();
    await earlier.putBack([...ROWS, ...TYPED]);
    const [grown] = await office.push(readingDraft(firm, purge, 30));
    expect([grown?.feed, grown?.seq]).toEqual([feed, seq]);
    const found = await verified();
    expect(found).toMatchObject([{ what: 'history', feed, kind: 'visit', id: visit }]);
    expect(found[0]?.detail).toContain(`row ${seq} is revision 1 of reading ${grown?.id}; client ${crew.id} `);
    expect(found[0]?.detail).toContain(`mutation ${mutationId} of`);
  });

  it('[D6] is found in every feed, also where nothing is left of it, with the row that went furthest', async () => {
    const feeds = ['firm', `site:${firm.ids.site}`, `event:${firm.ids.event}`];
    const tails = await Promise.all(feeds.map(tailOf));
    await earlier.past(async (owner) => {
      for (const name of ['head', 'ledger']) await owner.query(`delete from ${name} where firm = $1`, [firm.id]);
    });
    const found = (await verified()).filter(({ what }) => what === 'history');
    expect(found.map(({ feed }) => feed)).toEqual(expect.arrayContaining(feeds));
    for (const [at, feed] of feeds.entries()) {
      const details = found.filter((one) => one.feed === feed).map(({ detail }) => detail);
      expect(details).toHaveLength(1);
      const [, row] = /^row (\d+) is not there, and the ledger ends at row 0;/.exec(details[0] ?? '') ?? [];
      expect(Number(row)).toBeGreaterThan(0);
      expect(Number(row)).toBeLessThanOrEqual(tails[at] ?? 0);
    }
  });

  it('[D6] is found by the last number of its client where the receipts were cut off as well', async () => {
    const { mutationId } = await lastChange();
    await earlier.putBack([...ROWS, ...RECEIPTS, ...TYPED]);
    expect(await verified()).toMatchObject([
      {
        what: 'receipt',
        feed: '-',
        kind: 'client',
        id: crew.id,
        detail: expect.stringContaining(`it came to ${mutationId}`),
      },
    ]);
  });

  it('[D6] is found by the typed tables where receipts and clients were set back too', async () => {
    const { feed } = await lastChange();
    await earlier.putBack([...ROWS, ...RECEIPTS, 'client']);
    expect(await verified()).toMatchObject([{ what: 'typed', feed, kind: 'visit', id: visit }]);
  });

  it('fits together where every table of the firm was set back: only phones and backups know better', async () => {
    await lastChange();
    await earlier.putBack([...ROWS, ...RECEIPTS, ...TYPED, 'client', 'device_clock']);
    expect(await verified()).toEqual([]);
  });

  it('[D6] is found by how far its feed was compacted', async () => {
    await earlier.past(async (owner) => {
      const text = `insert into feed_floor select firm, feed, max(seq) + 3, now() from ledger where feed = 'firm' group by 1, 2`;
      await owner.query(text);
    });
    const [found, ...more] = await verified();
    expect(more).toEqual([]);
    expect(found).toMatchObject({ what: 'history', feed: 'firm', detail: expect.stringContaining('its floor is row') });
  });

  it('[D6] is found by what was set aside and applied later, of which no receipt says where it stands', async () => {
    const other = purgeDrafts(firm);
    const [parent, child] = [other.drafts[1], readingDraft(firm, other.ids.purge, 25)];
    const [early] = await crew.push(child);
    expect(early?.outcome).toBe('set_aside');
    const [, brought] = await crew.push(other.drafts[0] as typeof child, parent as typeof child);
    const { rows } = await db.bypass.query('select seq from ledger where record = $1', [child.id]);
    expect(rows[0]?.seq).toBeGreaterThan(brought?.seq ?? 0);
    expect(await verified()).toEqual([]);
    await earlier.past(async (owner) => {
      for (const [name, id] of [
        ['head', 'id'],
        ['ledger', 'record'],
        ['reading', 'id'],
      ]) {
        await owner.query(`delete from ${name} where firm = $1 and ${id} = $2`, [firm.id, child.id]);
      }
    });
    const witness = `mutation ${early?.mutationId} of client ${crew.id} was set aside and applied later, and no feed has it`;
    expect(await verified()).toContainEqual({
      feed: '-',
      kind: 'reading',
      id: child.id,
      what: 'history',
      detail: witness,
    });
  });

  it('[D6] is found by the feed that records had left for the one that was cut', async () => {
    const rehome = { verb: 'rehome', kind: 'visit', id: visit, base: { rev: 1 }, set: { event: later } };
    const [moved] = await office.push({ ...rehome, reason: 'wrong round' });
    expect(moved?.feed).toBe(`event:${later}`);
    expect(await verified()).toEqual([]);
    await earlier.past(async (owner) => {
      for (const name of ['head', 'ledger']) {
        const text = `delete from ${name} where firm = $1 and feed = $2 and seq > $3`;
        await owner.query(text, [firm.id, moved?.feed, moved?.seq]);
      }
    });
    const lost = (await verified()).filter(({ detail }) => detail.includes('left for another feed'));
    expect(lost.map(({ kind }) => kind).sort()).toEqual(['purge', 'reading', 'reading', 'reading', 'reading']);
    expect(new Set(lost.map(({ feed }) => feed))).toEqual(new Set([`event:${firm.ids.event}`]));
  });
});

describe('receipts that were taken away or changed', () => {
  it.each([
    [
      'is missing',
      'delete from receipt where firm = $1 and client = $2 and mutation = 2',
      'its receipt 2 is missing: 3',
    ],
    [
      'is no JSON',
      `update receipt set outcome = 'x' where firm = $1 and client = $2 and mutation = 2`,
      'cannot be read',
    ],
  ])('[D6] one that %s is named', async (_, text, detail) => {
    await earlier.past(async (owner) => {
      expect((await owner.query(text, [firm.id, crew.id])).rowCount).toBe(1);
    });
    const named = { what: 'receipt', kind: 'client', id: crew.id, detail: expect.stringContaining(detail) };
    expect(await verified()).toMatchObject([named]);
  });
});

describe('a firm that nobody tampered with', () => {
  it('[D1] is sound after a line in the place of another number was let go', async () => {
    const wrong = JSON.stringify({ ...JSON.parse(crew.line(readingDraft(firm, purge, 26))), mutationId: 9_007 });
    const [aside] = crew.outcomes(await crew.answer([wrong], crew.next - 1));
    expect(aside).toMatchObject({ outcome: 'set_aside', code: 'wrong_number' });
    const [released] = await office.push({ verb: 'release', kind: 'set-aside', id: aside?.setAside ?? '' });
    expect(released).toMatchObject({ outcome: 'applied', kind: 'reading' });
    expect(await verified()).toEqual([]);
  });

  it('[D1] is sound after lines were repeated, refused, set aside, let go and moved, and after it was compacted', async () => {
    const line = crew.line(readingDraft(firm, purge, 25));
    const first = crew.next - 1;
    for (let times = 0; times < 2; times++) await crew.answer([line], first);
    await crew.answer([Buffer.from([0xff, 0x00]), Buffer.from('{"no": "mutation"}')], crew.next);
    crew.next += 2;
    await office.push({
      verb: 'rehome',
      kind: 'visit',
      id: visit,
      base: { rev: 1 },
      set: { event: later },
      reason: 'so',
    });
    await office.push({
      verb: 'rehome',
      kind: 'visit',
      id: visit,
      base: { rev: 2 },
      set: { event: firm.ids.event },
      reason: 'no',
    });
    const { rows } = await db.bypass.query(`select id, code from set_aside where firm = $1 and standing = 'kept'`, [
      firm.id,
    ]);
    expect(rows.length).toBeGreaterThan(2);
    const retention = { before: new Date(firm.nowMs + 1), now: () => new Date(firm.nowMs) };
    expect((await compact(db.pool, firm.id, retention)).rows).toBeGreaterThan(0);
    expect(await verified()).toEqual([]);
  });

  it('[B5] [B6] is sound after a restore that lost acknowledged work, once it was said again, and after a new epoch', async () => {
    const files = await folder();
    const target = await testDatabase();
    await writeBackup(() => db.owner(), files.file('early'));
    const lost = [await lastChange(), await lastChange(office)];
    const now = '2026-05-05T08:00:00.000Z';
    await asOwner(target, (owner) => restoreBackup(owner, files.file('early'), { directory: ownMigrations, now }));
    expect(await verifyFirm(target.pool, firm.id)).toEqual([]);
    const lane = openLane({ pool: target.pool, now: () => new Date(firm.nowMs), committed: () => undefined });
    const again = new TestClient(crew.actor, lane);
    Object.assign(again, { id: crew.id, next: lost[0]?.mutationId });
    const [answer] = await again.push({
      verb: 'amend',
      kind: 'visit',
      id: visit,
      base: { was: {} },
      set: { outcomeReason: 'x' },
    });
    expect(answer).toMatchObject({ mutationId: lost[0]?.mutationId, seq: lost[0]?.seq });
    await asOwner(target, (owner) => declareEpoch(owner, now));
    await again.push(readingDraft(firm, purge, 35));
    expect(await verifyFirm(target.pool, firm.id)).toEqual([]);
    expect(await verified()).toEqual([]);
    await target.drop();
    await files.drop();
  });
});
