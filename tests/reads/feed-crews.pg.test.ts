import { randomUUID } from 'node:crypto';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Role } from '../../src/protocol/kind.ts';
import { feedList } from '../../src/reads/feed-list.ts';
import { feedPage } from '../../src/reads/feed-page.ts';
import { feedVerify } from '../../src/reads/feed-verify.ts';
import type { Reader } from '../../src/reads/reader.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type TestClient, TestFirm } from '../support/test-firm.ts';
import { purgeDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let admin: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  admin = await firm.setUp();
});
afterAll(() => db.drop());

function reader(role: Role, device: string | null = null, of = firm): Reader {
  return { firm: of.id, token: randomUUID(), role, device };
}

async function feeds(who: Reader): Promise<string[]> {
  return (await feedList(db.pool, who, null, '2026-05-04T12:00:00Z')).feeds.map((one) => one.feed);
}

function read(who: Reader, feed: string): Promise<string> {
  return feedPage(db.pool, who, { feed, cursor: null, limit: 10, client: null });
}

describe('the feeds of a device', () => {
  it('[F9] are the firm, the events that its crew is assigned to and their sites; and nothing else is there', async () => {
    const elsewhere = v7();
    const other = v7();
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const event = { site: elsewhere, name: 'Other', starts: '2026-06-01', ends: '2026-06-02', standing: 'open', plan };
    await admin.push(
      { kind: 'site', id: elsewhere, set: { name: 'Far yard', timeZone: 'America/Denver' } },
      { kind: 'event', id: other, set: event },
    );
    const phone = reader('crew', firm.ids.phone);
    const mine = [`event:${firm.ids.event}`, 'firm', `site:${firm.ids.site}`];
    expect(await feeds(phone)).toEqual(mine);
    expect(await feeds(reader('dashboard'))).toEqual([...mine, `event:${other}`, `site:${elsewhere}`].sort());
    await expect(read(phone, `event:${other}`)).rejects.toMatchObject({ code: 'not_found', status: 404 });
    await expect(read(phone, `site:${elsewhere}`)).rejects.toMatchObject({ code: 'not_found' });
    await expect(feedVerify(db.pool, phone, `event:${other}`, '')).rejects.toMatchObject({ code: 'not_found' });
    await admin.push({ kind: 'assignment', set: { event: other, crew: firm.ids.north } });
    expect(await feeds(phone)).toEqual([...mine, `event:${other}`, `site:${elsewhere}`].sort());
    expect(JSON.parse(await read(phone, `event:${other}`)).rows).toHaveLength(2);
  });

  it('[F9] follow the crew: an assignment that is voided, a device that changes hands', async () => {
    const own = new TestFirm(db.pool);
    const boss = await own.setUp();
    const phone = reader('crew', own.ids.phone, own);
    const { rows } = await db.bypass.query('select id from assignment where firm = $1 and crew = $2', [
      own.id,
      own.ids.north,
    ]);
    await boss.push({ verb: 'void', kind: 'assignment', id: rows[0]?.id, base: { rev: 1 }, reason: 'sent home' });
    expect(await feeds(phone)).toEqual(['firm']);
    await expect(read(phone, `event:${own.ids.event}`)).rejects.toMatchObject({ code: 'not_found' });
    await boss.push({
      verb: 'amend',
      kind: 'device',
      id: own.ids.phone,
      base: { rev: 1 },
      set: { crew: own.ids.south },
    });
    expect(await feeds(phone)).toContain(`event:${own.ids.event}`);
    expect(await feeds(reader('crew', null, own))).toEqual(['firm']);
  });

  it('[F10] of another firm are not there, by name or by right', async () => {
    const other = new TestFirm(db.pool);
    await other.setUp();
    for (const feed of [`event:${firm.ids.event}`, `site:${firm.ids.site}`]) {
      await expect(read(reader('admin', null, other), feed)).rejects.toMatchObject({ code: 'not_found' });
    }
    const connection = await db.pool.connect();
    try {
      expect((await connection.query('select count(*) as n from ledger')).rows).toEqual([{ n: 0 }]);
      await connection.query(`select set_config('wellround.firm', $1, false)`, [other.id]);
      const firms = await connection.query('select distinct firm from ledger union select distinct firm from head');
      expect(firms.rows).toEqual([{ firm: other.id }]);
    } finally {
      connection.release(true);
    }
  });
});

describe('agreement about a feed', () => {
  it('[F8] is reached by bisecting: the one record that differs is found among many', async () => {
    const crew = await firm.client('crew', firm.ids.phone);
    for (let round = 0; round < 30; round++) await crew.push(...purgeDrafts(firm).drafts);
    const who = reader('coordinator');
    const feed = `event:${firm.ids.event}`;
    const { rows } = await db.bypass.query<{ id: string; hash: string }>(
      `select id, encode(row_hash, 'hex') as hash from head where firm = $1 and feed = $2 and not gone`,
      [firm.id, feed],
    );
    const held = new Map(rows.map((row) => [row.id.replaceAll('-', ''), BigInt(`0x${row.hash}`)]));
    const [victim = ''] = [...held.keys()].slice(77);
    held.set(victim, (held.get(victim) ?? 0n) ^ 1n);
    const asked = [];
    let found: string[] | undefined;
    for (let prefix = ''; found === undefined; ) {
      const answer = await feedVerify(db.pool, who, feed, prefix);
      asked.push(prefix);
      if ('rows' in answer) found = answer.rows.map(({ record }) => (record as { id: string }).id.replaceAll('-', ''));
      const differing = answer.buckets.find((bucket) => {
        const own = [...held].filter(([id]) => id.startsWith(bucket.prefix));
        const sum = own.reduce((hash, [, one]) => hash ^ one, 0n);
        return own.length !== bucket.count || sum !== BigInt(`0x${bucket.hash}`);
      });
      if (!differing) throw new Error('no bucket differs');
      prefix = differing.prefix;
    }
    expect(found).toContain(victim);
    expect(found.length).toBeLessThanOrEqual(64);
    expect(asked.length).toBeLessThan(8);
  });
});
