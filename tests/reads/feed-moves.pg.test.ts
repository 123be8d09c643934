import { randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Reader } from '../../src/reads/reader.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { Follower, feedSource } from '../support/feed-follower.ts';
import { historyFaults } from '../support/history-check.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

async function twoEvents(): Promise<{ firm: TestFirm; here: string; there: string; reader: Reader }> {
  const firm = new TestFirm(db.pool);
  const admin = await firm.setUp();
  const later = v7();
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const set = { site: firm.ids.site, name: 'Later', starts: '2026-06-01', ends: '2026-06-02', standing: 'open', plan };
  await admin.push({ kind: 'event', id: later, set });
  const reader = { firm: firm.id, token: randomUUID(), role: 'coordinator' as const, device: null };
  return { firm, here: firm.ids.event, there: later, reader };
}

/** A visit with all that can be under it: a level with its point, a call, a flag, a conflict and its decision. */
async function fullVisit(firm: TestFirm): Promise<{ visit: string; ids: string[] }> {
  const crew = await firm.client('crew', firm.ids.phone);
  const other = await firm.client('crew', firm.ids.otherPhone);
  const office = await firm.client('coordinator');
  const point = { well: firm.ids.lone, description: 'notch', validFrom: '2020-01-01T00:00:00Z', change: 'first' };
  const mark = v7();
  await office.push({ kind: 'measuring-point', id: mark, set: point });
  const { ids, drafts } = purgeDrafts(firm);
  const observed = firm.observed(minute(21));
  const level = { visit: ids.visit, purpose: 'pumping', state: 'measured', depthToWaterFt: '21.4' };
  const reading = drafts.at(-1)?.id ?? '';
  const own: Draft[] = [
    ...drafts,
    { kind: 'water-level', id: v7(), set: { ...level, measuringPoint: mark, observed } },
    { kind: 'call', id: v7(), set: { purge: ids.purge, decision: 'not-stable-stopped', observed } },
    { kind: 'sample', id: v7(), set: { visit: ids.visit, number: 'S-1', suites: ['voc'], collected: minute(30) } },
  ];
  await crew.push(...own);
  const amend = (ph: string): Draft => {
    return { verb: 'amend', kind: 'reading', id: reading, base: { rev: 1 }, set: { ph }, reason: 'misread' };
  };
  await crew.push(amend('7.05'));
  await other.push(amend('7.09'));
  const { rows } = await db.bypass.query('select id, rev from conflict where subject = $1', [reading]);
  const base = { rev: rows[0]?.rev };
  await office.push({ verb: 'resolve', kind: 'conflict', id: rows[0]?.id, base, set: { value: '7.05' } });
  const all = await db.bypass.query<{ id: string }>('select id from head where firm = $1 and visit = $2 and not gone', [
    firm.id,
    ids.visit,
  ]);
  return { visit: ids.visit, ids: all.rows.map((row) => row.id) };
}

describe('a visit that goes to another event', () => {
  it('[F7] leaves a row that says so in the old feed, and is whole in the new one, with all under it', async () => {
    const { firm, here, there, reader } = await twoEvents();
    const { visit, ids } = await fullVisit(firm);
    const office = await firm.client('coordinator');
    const [old, fresh] = [here, there].map((event) => new Follower(feedSource(db.pool, reader, `event:${event}`, 5)));
    if (!old || !fresh) throw new Error('two followers were made');
    await old.catchUp();
    await fresh.catchUp();
    expect(ids.every((id) => old.rows.get(id)?.content)).toBe(true);
    const rehome = { verb: 'rehome', kind: 'visit', id: visit, base: { rev: 1 }, set: { event: there } };
    const [outcome] = await office.push({ ...rehome, reason: 'recorded in the wrong round' });
    expect(outcome).toMatchObject({ outcome: 'applied', feed: `event:${there}` });
    await old.catchUp();
    await fresh.catchUp();
    expect(ids.map((id) => old.rows.get(id)?.content)).toEqual(ids.map(() => null));
    expect(ids.map((id) => fresh.rows.get(id)?.content)).toEqual(ids.map(() => expect.any(String)));
    expect([...old.disagreements(), ...fresh.disagreements()]).toEqual([]);
    const reasons = `select distinct state->>'reason' as reason from ledger where client = $1 and state is not null`;
    expect((await db.bypass.query(reasons, [office.id])).rows).toEqual([{ reason: 'recorded in the wrong round' }]);
    const newcomer = new Follower(feedSource(db.pool, reader, `event:${here}`, 5));
    await newcomer.catchUp();
    expect(ids.some((id) => newcomer.rows.has(id))).toBe(false);
    expect(newcomer.disagreements()).toEqual([]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
  });

  it('[F7] is in one feed at every moment, however often it goes back and forth', async () => {
    const { firm, here, there, reader } = await twoEvents();
    const { visit, ids } = await fullVisit(firm);
    const office = await firm.client('coordinator');
    const followers = [here, there].map((event) => new Follower(feedSource(db.pool, reader, `event:${event}`, 3)));
    let done = false;
    const watch = async () => {
      const odd = [];
      const text = 'select feed, count(*) as n from head where id = any($1) and not gone group by feed';
      while (!done) {
        const { rows } = await db.bypass.query<{ feed: string; n: number }>(text, [ids]);
        if (rows.length !== 1 || rows[0]?.n !== ids.length) odd.push(rows);
        for (const follower of followers) await follower.catchUp();
        await sleep(1);
      }
      return odd;
    };
    const watching = watch();
    for (let turn = 0; turn < 20; turn++) {
      const event = turn % 2 ? here : there;
      const rehome = { verb: 'rehome', kind: 'visit', id: visit, base: { rev: turn + 1 }, set: { event } };
      const [outcome] = await office.push({ ...rehome, reason: `turn ${turn}` });
      expect(outcome).toMatchObject({ outcome: 'applied', rev: turn + 2 });
    }
    done = true;
    expect(await watching).toEqual([]);
    for (const follower of followers) {
      await follower.catchUp();
      expect(follower.disagreements()).toEqual([]);
    }
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[F7] twice in one transaction leaves each feed with what is true', async () => {
    const { firm, here, there, reader } = await twoEvents();
    const { visit, ids } = await fullVisit(firm);
    const office = await firm.client('coordinator');
    const rehome = (event: string, base: object): Draft => {
      return { verb: 'rehome', kind: 'visit', id: visit, base, set: { event }, reason: 'to and fro' };
    };
    await office.push(rehome(there, { rev: 1 }), rehome(here, { after: office.next }));
    const followers = [here, there].map((event) => new Follower(feedSource(db.pool, reader, `event:${event}`, 4)));
    for (const follower of followers) {
      await follower.catchUp();
      expect(follower.disagreements()).toEqual([]);
    }
    expect(ids.every((id) => followers[0]?.rows.get(id)?.content)).toBe(true);
    expect(ids.some((id) => followers[1]?.rows.has(id))).toBe(false);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    expect((await historyFaults(db.bypass, firm.id)).faults).toEqual([]);
  });
});

describe('a visit that goes to another well', () => {
  it('[M9] takes levels, call and derived records along in one step, judged by the right well', async () => {
    const { firm, reader, here } = await twoEvents();
    const { visit } = await fullVisit(firm);
    const office = await firm.client('coordinator');
    const mark = v7();
    const point = { well: firm.ids.deep, description: 'notch', validFrom: '2020-01-01T00:00:00Z', change: 'first' };
    await office.push({ kind: 'measuring-point', id: mark, set: point });
    const follower = new Follower(feedSource(db.pool, reader, `event:${here}`, 100));
    await follower.catchUp();
    const rehome = { verb: 'rehome', kind: 'visit', id: visit, base: { rev: 1 }, set: { well: firm.ids.deep } };
    await office.push({ ...rehome, reason: 'it was the deep well' });
    const before = follower.rows.size;
    await follower.catchUp();
    expect(follower.disagreements()).toEqual([]);
    expect(follower.rows.size).toBeGreaterThanOrEqual(before);
    const { rows } = await db.bypass.query('select measuring_point from water_level where visit = $1', [visit]);
    expect(rows).toEqual([{ measuring_point: mark }]);
    const flags = await db.bypass.query('select distinct well from flag where visit = $1 and not voided', [visit]);
    expect(flags.rows).toEqual([{ well: firm.ids.deep }]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });
});
