import { createHmac, randomUUID } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Problem } from '../../src/protocol/problem.ts';
import { readCursor, writeCursor } from '../../src/reads/cursor.ts';
import { feedPage } from '../../src/reads/feed-page.ts';
import type { Reader } from '../../src/reads/reader.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { TestFirm } from '../support/test-firm.ts';
import { visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let reader: Reader;
let feed: string;
let key: Buffer;
let cursor: string;
const client = randomUUID();

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  reader = { firm: firm.id, token: randomUUID(), role: 'coordinator', device: null };
  feed = `event:${firm.ids.event}`;
  const crew = await firm.client('crew', firm.ids.phone);
  await crew.push(...visitDrafts(firm).drafts);
  await db.bypass.query('update client set id = $1 where id = $2', [client, crew.id]);
  key =
    (await db.bypass.query<{ cursor_key: Buffer }>('select cursor_key from installation')).rows[0]?.cursor_key ?? key;
  cursor = (await page(null)).cursor;
});
afterAll(() => db.drop());

interface Page {
  readonly cursor: string;
  readonly rows: readonly { readonly seq: number }[];
  readonly tail: number;
  readonly more: boolean;
}

async function page(from: string | null, of = feed, who = reader, limit = 1_000): Promise<Page> {
  return JSON.parse(await feedPage(db.pool, who, { feed: of, cursor: from, limit, client })) as Page;
}

async function reasonOf(from: string, of = feed, who = reader): Promise<unknown> {
  const error: unknown = await page(from, of, who).catch((thrown: unknown) => thrown);
  if (!(error instanceof Problem)) throw new Error(`the cursor was taken: ${JSON.stringify(error)}`);
  expect(error).toMatchObject({ code: 'reset_required', status: 410, members: { lastMutation: 2, feed: of } });
  return error.members.reason;
}

/** The cursor with some of it changed, signed as the server would. */
function resigned(change: object): string {
  const known = readCursor(key, cursor);
  if (!known) throw new Error('the cursor of the server cannot be read with its key');
  return writeCursor(key, { ...known, ...change });
}

describe('a cursor', () => {
  it('[F2] goes on where it was given, and fits as long as nothing was set back', async () => {
    const all = await page(null);
    const [first, rest] = [await page(null, feed, reader, 2), []];
    expect(first).toMatchObject({ more: true, rows: all.rows.slice(0, 2) });
    const next = await page(first.cursor);
    expect([...first.rows, ...next.rows, ...rest]).toEqual(all.rows);
    expect(await page(next.cursor)).toMatchObject({ rows: [], more: false });
  });

  it('[F6] that was forged in any place is not known', async () => {
    const [body = '', signature = ''] = cursor.split('.');
    const other = createHmac('sha256', 'another key').update(body).digest().subarray(0, 16).toString('base64url');
    const flipped = [...signature].map((char, at) => (at === 3 ? (char === 'A' ? 'B' : 'A') : char)).join('');
    const later = Buffer.from(body, 'base64url')
      .toString()
      .replace(/"s":\d+/, '"s":1');
    const forged = [
      '',
      '.',
      'nonsense',
      body,
      `${body}.`,
      `${body}.${flipped}`,
      `${body}.${other}`,
      `${cursor}.`,
      `${Buffer.from(later).toString('base64url')}.${signature}`,
      cursor.slice(0, -1),
      `${Buffer.from('{"s":9007199254740991}').toString('base64url')}.${signature}`,
      `${Buffer.from('{"s":-1}').toString('base64url')}.${signature}`,
    ];
    for (const text of forged) expect([text, await reasonOf(text)]).toEqual([text, 'unknown_cursor']);
  });

  it('[F6] of another reader is of no use, though both may follow the feed', async () => {
    const other = { ...reader, token: randomUUID() };
    expect(await reasonOf(cursor, feed, other)).toBe('other_reader');
    // who hears that has the history that is here: the revisions that it has seen mean what they did
    expect(await reasonOf(resigned({ history: '0123456789abcdef' }), feed, other)).toBe('other_history');
  });

  it('[F6] of another feed is of no use', async () => {
    expect(await reasonOf(cursor, 'firm')).toBe('other_feed');
  });

  it('[F6] of another epoch is noticed before anything else is believed of it', async () => {
    expect(await reasonOf(resigned({ epoch: randomUUID(), seq: 1_000_000 }))).toBe('other_epoch');
  });

  it('[F6] of a future that did not come about is noticed', async () => {
    const { tail } = await page(null);
    expect(await reasonOf(resigned({ seq: tail + 1 }))).toBe('future');
  });

  it('[F6] of another history is noticed, though its place exists', async () => {
    expect(await reasonOf(resigned({ history: '0123456789abcdef' }))).toBe('other_history');
    expect(await reasonOf(resigned({ seq: 1 }))).toBe('other_history');
  });

  it('[F6] tells of a database that was set back, though nobody said so', async () => {
    const own = new TestFirm(db.pool);
    await own.setUp();
    const who = { ...reader, firm: own.id };
    const crew = await own.client('crew', own.ids.phone);
    const site = `event:${own.ids.event}`;
    await crew.push(...visitDrafts(own).drafts);
    const before = await page(null, site, who);
    await setBack(own.id, site, 2);
    const gone = await page(before.cursor, site, who).catch((thrown: unknown) => thrown);
    expect(gone).toMatchObject({ code: 'reset_required', members: { reason: 'future' } });
    const other = await own.client('crew', own.ids.phone);
    await other.push(...visitDrafts(own).drafts);
    const rewritten = await page(before.cursor, site, who).catch((thrown: unknown) => thrown);
    expect(rewritten).toMatchObject({ code: 'reset_required', members: { reason: 'other_history' } });
  });

  /** As a restored backup would: the newest rows of a feed are not there any more. */
  async function setBack(of: string, from: string, rows: number): Promise<void> {
    const owner = await db.owner();
    await owner.query('alter table ledger disable trigger ledger_append_only');
    const text = `delete from ledger where firm = $1 and feed = $2
and seq > (select max(seq) - $3 from ledger where firm = $1 and feed = $2)`;
    await db.bypass.query(text, [of, from, rows]);
    await db.bypass.query(
      'delete from head h where firm = $1 and feed = $2 and not exists (select from ledger l where l.firm = h.firm and l.feed = h.feed and l.seq = h.seq)',
      [of, from],
    );
    await owner.query('alter table ledger enable trigger ledger_append_only');
  }

  it('[F2] of a feed with nothing in it yet fits once something is', async () => {
    const own = new TestFirm(db.pool);
    const admin = await own.setUp();
    const who = { ...reader, firm: own.id };
    const empty = await page(null, 'firm', who);
    expect(empty.rows.length).toBe(empty.tail);
    await admin.push({ kind: 'crew', set: { name: 'West crew' } });
    expect(await page(empty.cursor, 'firm', who)).toMatchObject({ rows: [{ seq: empty.tail + 1 }] });
  });
});
