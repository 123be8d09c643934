import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { feedPage } from '../../src/reads/feed-page.ts';
import { PageCache } from '../../src/reads/page-cache.ts';
import type { Reader } from '../../src/reads/reader.ts';
import type { FeedRows, FeedTail } from '../../src/store/read/feed-rows.ts';
import { faultyPool } from '../support/faulty-pool.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type TestClient, TestFirm } from '../support/test-firm.ts';

let db: TestDatabase;
let firm: TestFirm;
let admin: TestClient;
let feed: string;
const pages = new PageCache();
/** How often rows were asked for. */
let asked = 0;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  admin = await firm.setUp();
  feed = `event:${firm.ids.event}`;
});
afterAll(() => db.drop());

function reader(role: Reader['role'] = 'coordinator', device: string | null = null): Reader {
  return { firm: firm.id, token: randomUUID(), role, device };
}

interface Page {
  readonly cursor: string;
  readonly tail: number;
  readonly count: number;
  readonly rows: readonly { readonly seq: number; readonly gone?: object }[];
}

async function page(who: Reader, cursor: string | null, limit = 1_000): Promise<Page> {
  const pool = faultyPool(db.pool, (statement) => {
    if (statement.includes('from head')) asked += 1;
  });
  return JSON.parse(await feedPage(pool, who, { feed, cursor, limit, client: null }, pages)) as Page;
}

/** The same without anything kept. */
async function fresh(who: Reader, cursor: string): Promise<Page> {
  return JSON.parse(await feedPage(db.pool, who, { feed, cursor, limit: 1_000, client: null })) as Page;
}

async function assign(): Promise<string> {
  const set = { event: firm.ids.event, crew: firm.ids.north, well: firm.ids.deep };
  const [outcome] = await admin.push({ kind: 'assignment', set });
  return outcome?.id ?? '';
}

describe('pages that are kept', () => {
  it('[L9] are what the database would give, whatever happens in the feed, and are asked for once', async () => {
    const readers = [reader(), reader(), reader('crew', firm.ids.phone)];
    const cursors = await Promise.all(readers.map(async (who) => (await page(who, null)).cursor));
    const id = await assign();
    for (const change of ['new', 'again', 'gone'] as const) {
      if (change === 'again') await assign();
      if (change === 'gone') {
        const [outcome] = await admin.push({ verb: 'void', kind: 'assignment', id, base: { rev: 1 }, reason: 'no' });
        expect(outcome?.outcome).toBe('applied');
      }
      asked = 0;
      const answers: Page[] = [];
      for (const [at, who] of readers.entries()) answers.push(await page(who, cursors[at] ?? ''));
      expect([change, asked]).toEqual([change, 1]);
      for (const [at, who] of readers.entries()) expect(answers[at]).toEqual(await fresh(who, cursors[at] ?? ''));
    }
  });

  it('[L9] are given to nobody who may not follow the feed, and to nobody with the cursor of another', async () => {
    const [one, other] = [reader(), reader()];
    const { cursor } = await page(one, null);
    await assign();
    await page(one, cursor);
    const stranger = { ...reader('crew', randomUUID()) };
    await expect(page(stranger, cursor)).rejects.toMatchObject({ code: 'not_found' });
    await expect(page(other, cursor)).rejects.toMatchObject({ code: 'reset_required' });
    const foreign = { ...one, firm: randomUUID() };
    await expect(page(foreign, cursor)).rejects.toMatchObject({ code: 'not_found' });
  });

  it('[L9] are not given where a smaller page was asked for', async () => {
    const one = reader();
    const { cursor } = await page(one, null);
    for (let time = 0; time < 3; time++) await assign();
    expect((await page(one, cursor)).rows).toHaveLength(3);
    expect((await page(one, cursor, 2)).rows).toHaveLength(2);
  });

  it('[L9] are of no use once the feed has another history, as after it was set back', () => {
    const cache = new PageCache();
    const tail = (history: number) => ({ historyHash: Buffer.alloc(32, history) }) as FeedTail;
    const rows: FeedRows = { count: 1, last: 9, history: null, text: '{}' };
    cache.keep('f', 'a', 8, tail(1), rows);
    expect(cache.find('f', 'a', 8, tail(1), 2)).toBe(rows);
    expect([cache.find('f', 'a', 8, tail(2), 2), cache.find('g', 'a', 8, tail(1), 2)]).toEqual([null, null]);
  });

  it('[L9] take a bounded place: the oldest go first, and a large one is not kept', () => {
    const cache = new PageCache();
    const tail = { historyHash: Buffer.alloc(32) } as FeedTail;
    const rows = (size: number): FeedRows => ({ count: 1, last: 9, history: null, text: 'x'.repeat(size) });
    for (let from = 1; from <= 100; from++) cache.keep('f', 'a', from, tail, rows(250_000));
    const kept = Array.from({ length: 100 }, (_, at) => at + 1).filter((from) => cache.has('f', 'a', from));
    expect(kept).toEqual(Array.from({ length: 67 }, (_, at) => at + 34));
    cache.keep('f', 'a', 100, tail, rows(300_000));
    expect(cache.has('f', 'a', 100)).toBe(false);
  });
});
