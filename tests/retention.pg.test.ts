import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { ConfigError, readConfig } from '../src/config.ts';
import { compactDaily } from '../src/retention.ts';
import { CURSED, failingFirm } from './support/failing-firm.ts';
import { type TestDatabase, testDatabase } from './support/test-database.ts';
import { TestFirm } from './support/test-firm.ts';
import { purgeDrafts } from './support/visit-drafts.ts';

const DAY_MS = 86_400_000;

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

async function goneRows(): Promise<number> {
  const { rows } = await db.bypass.query<{ n: number }>('select count(*)::int as n from head where gone');
  return rows[0]?.n ?? 0;
}

/** A firm in which a whole visit has left its feed. */
async function withGone(): Promise<TestFirm> {
  const firm = new TestFirm(db.pool);
  const admin = await firm.setUp();
  const later = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site: firm.ids.site, name: 'Later', starts: '2026-06-01', ends: '2026-06-02', standing: 'open', plan };
  const { ids, drafts } = purgeDrafts(firm);
  await admin.push({ kind: 'event', id: later, set }, ...drafts);
  const rehome = { verb: 'rehome', kind: 'visit', id: ids.visit, base: { rev: 1 }, set: { event: later } };
  await admin.push({ ...rehome, reason: 'wrong round' });
  return firm;
}

describe('once a day', () => {
  it('[F11] every firm is compacted, again and again, and not before the retention is over', async () => {
    const firms = [await withGone(), await withGone()];
    const before = await goneRows();
    expect(before).toBeGreaterThan(10);
    let nowMs = firms[0]?.nowMs ?? 0;
    const log = { info: vi.fn(), error: vi.fn() };
    const options = { database: db, days: 90, now: () => new Date(nowMs), firstMs: 1, everyMs: 20 };
    const daily = compactDaily({ ...options, log: log as never });
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect([await goneRows(), log.info.mock.calls, log.error.mock.calls]).toEqual([before, [], []]);
    nowMs += 91 * DAY_MS;
    await vi.waitFor(async () => expect(await goneRows()).toBe(0), 5_000);
    await daily.close();
    expect(log.error.mock.calls).toEqual([]);
    const said = log.info.mock.calls.map(([fields]) => fields as { firm: string; rows: number; days: number });
    expect(said.map(({ firm }) => firm).sort()).toEqual(firms.map(({ id }) => id).sort());
    expect(said.reduce((sum, { rows }) => sum + rows, 0)).toBe(before);
  });

  it('a fault in one firm is said and does not keep the others from their turn', async () => {
    const firms = [await withGone(), await withGone()].toSorted((a, b) => (a.id < b.id ? -1 : 1));
    const [first] = firms as [TestFirm];
    const mend = await failingFirm(db, 'feed_floor', first.id);
    const log = { info: vi.fn(), error: vi.fn() };
    const now = () => new Date(first.nowMs + 91 * DAY_MS);
    const daily = compactDaily({ database: db, days: 90, now, firstMs: 1, everyMs: 20, log: log as never });
    await vi.waitFor(() => expect(log.info.mock.calls.length).toBe(1), 5_000);
    expect(log.info.mock.calls[0]?.[0]).toMatchObject({ firm: firms[1]?.id });
    expect(log.error.mock.calls[0]?.[0]).toEqual({ firm: first.id, error: CURSED });
    await mend();
    await vi.waitFor(async () => expect(await goneRows()).toBe(0), 5_000);
    await daily.close();
  });

  it('a database that is away for a day is waited for, and a closed one is left alone', async () => {
    const log = { info: vi.fn(), error: vi.fn() };
    const owner = vi.fn(() => Promise.reject(new Error('the database is away')));
    const options = { days: 1, now: () => new Date(), firstMs: 1, everyMs: 5, log: log as never };
    const daily = compactDaily({ ...options, database: { pool: db.pool, owner } });
    await vi.waitFor(() => expect(owner.mock.calls.length).toBeGreaterThan(2));
    await daily.close();
    const asked = owner.mock.calls.length;
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(owner.mock.calls.length).toBe(asked);
    expect(log.error.mock.calls[0]?.[0]).toEqual({ error: 'the database is away' });
  });
});

describe('RETENTION_DAYS', () => {
  it('is 90 days where nothing is said, at least one, or off', () => {
    const days = (text?: string) => readConfig(text === undefined ? {} : { RETENTION_DAYS: text }).RETENTION_DAYS;
    expect([days(), days('1'), days('400'), days('off')]).toEqual([90, 1, 400, 'off']);
    for (const wrong of ['0', '-1', '1.5', 'never', '01']) {
      expect(() => days(wrong)).toThrow(ConfigError);
      expect(() => days(wrong)).toThrow(
        /RETENTION_DAYS: .* was given; must be a whole number of days, 1 or more, or off/,
      );
    }
  });
});
