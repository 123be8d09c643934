import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Overlay } from '../../src/rules/overlay.ts';
import { heldById } from '../../src/store/write/load-held.ts';
import { inWrite } from '../../src/store/write/transaction.ts';
import { deriveAgain } from '../../src/writes/derive-again.ts';
import { writeDerived } from '../../src/writes/derive-group.ts';
import { openGroup } from '../../src/writes/group.ts';
import { GroupWriter } from '../../src/writes/group-writer.ts';
import { recompute } from '../../src/writes/recompute.ts';
import { seeded } from '../support/faulty-pool.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { minute } from '../support/visit-drafts.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

async function newFirm() {
  const firm = new TestFirm(db.pool);
  return { firm, admin: await firm.setUp() };
}

type Stop = Draft & { id: string };

function stop(firm: TestFirm, crew: string, at: number, more: object = {}): Stop {
  const { event, lone: well } = firm.ids;
  return { kind: 'visit', id: v7(), set: { event, well, crew, method: 'low-flow', arrived: minute(at), ...more } };
}

function pumpIn(firm: TestFirm, { id: visit }: Stop, pump: string, at: number): Stop {
  return { kind: 'pump-set-up', id: v7(), set: { visit, pump, observed: firm.observed(minute(at)) } };
}

function claim(firm: TestFirm, crew: string, at: number, more: object = {}): Stop {
  const { event, lone: well } = firm.ids;
  const set = { event, well, crew, from: minute(at), observed: firm.observed(minute(at)), ...more };
  return { kind: 'well-claim', id: v7(), set };
}

/** North from ten to eleven, South half an hour later, at the lone well. */
function both(firm: TestFirm): readonly [Stop, Stop] {
  return [stop(firm, firm.ids.north, 0), stop(firm, firm.ids.south, 30)];
}

interface Flag {
  readonly id: string;
  readonly subject: string;
  readonly well: string;
  readonly standing: string;
  readonly feed: string;
  readonly hash: string;
  readonly sentence: string;
}

/** Those that stand; of all that were ever written, the number of rows. */
async function flagsOf(firm: TestFirm): Promise<Flag[]> {
  const { rows } = await db.bypass.query<Flag>(
    `select f.id, f.subject, f.well, f.standing, h.feed, l.state -> 'fields' ->> 'evidenceHash' as hash,
  l.state -> 'fields' ->> 'sentence' as sentence
from flag f join head h on h.firm = f.firm and h.id = f.id and not h.gone
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where f.firm = $1 and f.rule = 'well-purged-by-two-crews' order by f.subject`,
    [firm.id],
  );
  return rows;
}

async function rowsOf(firm: TestFirm, flag: string | undefined): Promise<number> {
  const text = 'select count(*)::int as rows from ledger where firm = $1 and record = $2';
  const { rows } = await db.bypass.query<{ rows: number }>(text, [firm.id, flag]);
  return rows[0]?.rows ?? 0;
}

const rehome = (visit: Stop, set: Record<string, unknown>, rev = 1): Draft => {
  return { kind: 'visit', verb: 'rehome', id: visit.id, base: { rev }, reason: 'read the tag', set };
};

describe('two crews that purge one well in one event', () => {
  it('[D11] are asked about at the later visit, in whichever order the visits reach the server', async () => {
    const told: unknown[] = [];
    for (const turned of [false, true]) {
      const { firm, admin } = await newFirm();
      const [north, south] = both(firm);
      for (const visit of turned ? [south, north] : [north, south]) await admin.push(visit);
      const flags = await flagsOf(firm);
      expect(flags).toMatchObject([{ subject: south.id, well: firm.ids.lone, standing: 'raised' }]);
      expect(await recompute(db.pool, firm.id)).toEqual([]);
      told.push(flags.map(({ sentence }) => sentence));
    }
    expect(told[1]).toEqual(told[0]);
  });

  it('[D11] are no longer asked about once one visit goes to the right well, and again once it comes back', async () => {
    const { firm, admin } = await newFirm();
    const [north, south] = both(firm);
    await admin.push(north, south);
    const [flag] = await flagsOf(firm);
    await admin.push(rehome(north, { well: firm.ids.deep }));
    expect(await flagsOf(firm)).toEqual([]);
    expect(await rowsOf(firm, flag?.id)).toBe(2);
    await admin.push(rehome(north, { well: firm.ids.lone }, 2));
    expect(await flagsOf(firm)).toMatchObject([{ id: flag?.id }]);
    await admin.push(rehome(south, { well: firm.ids.deep }));
    expect(await flagsOf(firm)).toEqual([]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D11] are not asked about across events, and where a visit goes into the event of another, there', async () => {
    const { firm, admin } = await newFirm();
    const event = v7();
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const dates = { starts: '2026-05-04', ends: '2026-05-05', standing: 'open' };
    await admin.push({ kind: 'event', id: event, set: { site: firm.ids.site, name: 'Extra', ...dates, plan } });
    const north = stop(firm, firm.ids.north, 0);
    const south = stop(firm, firm.ids.south, 30, { event });
    await admin.push(north, south);
    expect(await flagsOf(firm)).toEqual([]);
    await admin.push(rehome(north, { event }));
    expect(await flagsOf(firm)).toMatchObject([{ subject: south.id, feed: `event:${event}` }]);
    await admin.push(rehome(south, { event: firm.ids.event }), rehome(north, { event: firm.ids.event }, 2));
    expect(await flagsOf(firm)).toMatchObject([{ subject: south.id, feed: `event:${firm.ids.event}` }]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D9] follow corrections and voids of a visit, and stay reviewed until they rest on something else', async () => {
    const { firm, admin } = await newFirm();
    const [north, south] = both(firm);
    await admin.push(north, south);
    const [flag] = await flagsOf(firm);
    const set = {
      flag: flag?.id,
      evidenceHash: flag?.hash,
      decision: 'no-action',
      observed: firm.observed(minute(60)),
    };
    expect(await admin.push({ kind: 'flag-review', set })).toMatchObject([{ outcome: 'applied' }]);
    expect(await flagsOf(firm)).toMatchObject([{ standing: 'reviewed' }]);
    const reason = 'looked at the tag';
    await admin.push({
      kind: 'visit',
      verb: 'amend',
      id: north.id,
      base: { rev: 1 },
      set: { outcomeReason: 'x' },
      reason,
    });
    expect(await flagsOf(firm)).toMatchObject([{ standing: 'reviewed' }]);
    await admin.push({
      kind: 'visit',
      verb: 'amend',
      id: north.id,
      base: { rev: 2 },
      set: { arrived: minute(50) },
      reason,
    });
    expect(await flagsOf(firm)).toMatchObject([{ subject: north.id, standing: 'raised' }]);
    await admin.push({ kind: 'visit', verb: 'void', id: south.id, base: { rev: 1 }, reason });
    expect(await flagsOf(firm)).toEqual([]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D11] are one purge in parts with the same pump, or where the one crew relieves the other', async () => {
    const { firm, admin } = await newFirm();
    const [north, south] = both(firm);
    await admin.push(north, pumpIn(firm, north, firm.ids.pump, 5));
    await admin.push(south);
    expect(await flagsOf(firm)).toHaveLength(1);
    const same = pumpIn(firm, south, firm.ids.pump, 35);
    await admin.push(same);
    expect(await flagsOf(firm)).toEqual([]);
    await admin.push({ kind: 'pump-set-up', verb: 'void', id: same.id, base: { rev: 1 }, reason: 'another pump' });
    expect(await flagsOf(firm)).toHaveLength(1);
    const first = claim(firm, firm.ids.north, 0, { until: minute(30) });
    const relief = claim(firm, firm.ids.south, 30, { handedOverFrom: first.id });
    await admin.push(first);
    expect(await flagsOf(firm)).toHaveLength(1);
    await admin.push(relief);
    expect(await flagsOf(firm)).toEqual([]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
    await admin.push({ kind: 'well-claim', verb: 'void', id: relief.id, base: { rev: 1 }, reason: 'was not agreed' });
    expect(await flagsOf(firm)).toHaveLength(1);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D11] are not asked about where the sample of the first was voided, and a crew takes it again', async () => {
    const { firm, admin } = await newFirm();
    const north = stop(firm, firm.ids.north, 0, { outcome: 'sampled', left: minute(60) });
    const south = stop(firm, firm.ids.south, 1_440);
    const set = { visit: north.id, number: 'S-7', suites: ['VOC'], collected: minute(50) };
    const sample = { kind: 'sample', id: v7(), set };
    await admin.push(north, sample);
    await admin.push(south);
    expect((await flagsOf(firm))[0]?.sentence).toContain('is purged and sampled by another crew');
    await admin.push({ kind: 'sample', verb: 'void', id: sample.id, base: { rev: 1 }, reason: 'the bottles broke' });
    expect(await flagsOf(firm)).toEqual([]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D8] end with the same flags in any order and any groups', async () => {
    const told: unknown[] = [];
    for (const seed of [1, 2, 3, 4]) {
      const { firm, admin } = await newFirm();
      const { ids } = firm;
      const [north, south] = both(firm);
      const third = stop(firm, ids.south, 60, { well: ids.deep });
      const fourth = stop(firm, ids.north, 90, { well: ids.deep });
      const late = stop(firm, ids.north, 200);
      const all = [
        [north, pumpIn(firm, north, ids.pump, 5)],
        [south, pumpIn(firm, south, ids.otherPump, 35)],
        [third, pumpIn(firm, third, ids.pump, 65)],
        [fourth, pumpIn(firm, fourth, ids.pump, 95)],
        [late, rehome(late, { well: ids.deep })],
      ];
      const chance = seeded(seed);
      const mixed = all.map((drafts) => ({ drafts, place: chance() })).toSorted((a, b) => a.place - b.place);
      while (mixed.length > 0)
        await admin.push(...mixed.splice(0, 1 + Math.floor(chance() * 3)).flatMap((one) => one.drafts));
      const names = new Map([
        [south.id, 'south'],
        [late.id, 'late'],
        [fourth.id, 'fourth'],
      ]);
      told.push((await flagsOf(firm)).map(({ subject, sentence }) => `${names.get(subject)} ${sentence}`).toSorted());
      expect(await recompute(db.pool, firm.id)).toEqual([]);
    }
    expect(told[0]).toEqual([expect.stringMatching(/^late W-4D/), expect.stringMatching(/^south W-1/)]);
    for (const other of told) expect(other).toEqual(told[0]);
  });

  it('[D6] are found where an older version asked nothing, and derived then', async () => {
    const { firm, admin } = await newFirm();
    await admin.push(...both(firm));
    const before = await flagsOf(firm);
    await inWrite(db.pool, firm.id, async (tx) => {
      const stored = await heldById(
        tx,
        before.map(({ id }) => id),
      );
      const hashes = new Map(stored.map((held) => [`${held.feed} ${held.state.id}`, held.rowHash]));
      const overlay = new Overlay();
      for (const held of stored) overlay.load(held);
      const nothing = { affected: [], clashing: [], again: [], units: [], events: [] };
      const gathered = { waiting: [], released: new Map(), ...nothing };
      const nobody = { clients: new Map(), receipts: new Map(), batches: [], fresh: [] };
      const group = openGroup({ overlay, hashes, gathered, ...nobody });
      writeDerived(group, stored, []);
      await new GroupWriter(tx, group, new Date(firm.nowMs).toISOString()).finish();
    });
    expect(await flagsOf(firm)).toEqual([]);
    expect(await recompute(db.pool, firm.id)).toMatchObject([{ kind: 'flag', id: before[0]?.id }]);
    await deriveAgain(db.pool, firm.id, () => new Date(firm.nowMs));
    expect(await flagsOf(firm)).toEqual(before);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });
});
