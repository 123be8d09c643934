import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Held } from '../../src/rules/held.ts';
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
import { minute, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

async function newFirm() {
  const firm = new TestFirm(db.pool);
  const admin = await firm.setUp();
  return { firm, admin, crew: await firm.client('crew') };
}

interface Flag {
  readonly rule: string;
  readonly subject: string;
  readonly standing: string;
  readonly sentence: string;
  readonly id: string;
  readonly hash: string;
}

async function flagsOf(firm: TestFirm): Promise<Flag[]> {
  const { rows } = await db.bypass.query(
    `select f.id, f.rule, f.subject, f.standing, l.state -> 'fields' ->> 'evidenceHash' as hash, l.state -> 'fields' ->> 'sentence' as sentence
from flag f join head h on h.firm = f.firm and h.id = f.id and not h.gone
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where f.firm = $1 and f.rule in ('kit-item-short', 'kit-item-expired', 'sample-number-twice') order by f.rule, f.subject`,
    [firm.id],
  );
  return rows;
}

const SHORT = [{ item: 'Bottles for VOC', standing: 'ok', expected: 6, found: 4 }];
const WHOLE = [{ item: 'Bottles for VOC', standing: 'ok', expected: 6, found: 6 }];
const EXPIRED = [{ item: 'Buffer pH 7', standing: 'ok', expires: '2026-05-01' }];

function kit(firm: TestFirm, items: object, at: number, id = v7()): Draft & { id: string } {
  const { event, north: crew } = firm.ids;
  return { kind: 'kit-check', id, set: { event, crew, items, observed: firm.observed(minute(at)) } };
}

function sampleOf(visit: string, number: string, at: number, id = v7()): Draft & { id: string } {
  return { kind: 'sample', id, set: { visit, number, suites: ['VOC'], collected: minute(at) } };
}

function blankOf(firm: TestFirm, number: string, id = v7()): Draft & { id: string } {
  const set = { event: firm.ids.event, type: 'equipment', number, collected: minute(50), suites: ['VOC'] };
  return { kind: 'blank', id, set };
}

/** As an older version would have left it: without the first of the flags, and with other words in the second. */
async function asOlder(firm: TestFirm): Promise<void> {
  const ids = (await flagsOf(firm)).map(({ id }) => id);
  await inWrite(db.pool, firm.id, async (tx) => {
    const [overlay, hashes] = [new Overlay(), new Map<string, Buffer>()];
    const stored = await heldById(tx, ids);
    for (const held of stored) {
      overlay.load(held);
      hashes.set(`${held.feed} ${held.state.id}`, held.rowHash);
    }
    const nothing = { affected: [], clashing: [], again: [], units: [], events: [] };
    const gathered = { waiting: [], released: new Map(), ...nothing };
    const nobody = { clients: new Map(), receipts: new Map(), batches: [], fresh: [] };
    const group = openGroup({ overlay, hashes, gathered, ...nobody });
    const { feed, parent, visit, state } = stored.find((held) => held.state.id === ids[1]) as Held;
    const other = { kind: 'flag', id: state.id, fields: { ...state.fields, sentence: 'Look.' }, feed, parent, visit };
    writeDerived(group, stored, [other]);
    await new GroupWriter(tx, group, new Date(firm.nowMs).toISOString()).finish();
  });
}

describe('the kit of a morning', () => {
  it('[D1] is asked about beside its check, and no longer once the check is corrected, voided or done again', async () => {
    const { firm, crew } = await newFirm();
    const first = kit(firm, SHORT, 0);
    await crew.push(first);
    expect(await flagsOf(firm)).toMatchObject([{ rule: 'kit-item-short', subject: first.id, standing: 'raised' }]);
    const amend = (items: object, rev: number) => {
      return { kind: 'kit-check', verb: 'amend', id: first.id, base: { rev }, set: { items }, reason: 'counted again' };
    };
    await crew.push(amend(WHOLE, 1));
    expect(await flagsOf(firm)).toEqual([]);
    await crew.push(amend([...SHORT, ...EXPIRED], 2));
    expect((await flagsOf(firm)).map(({ rule }) => rule)).toEqual(['kit-item-expired', 'kit-item-short']);
    const again = kit(firm, WHOLE, 20);
    await crew.push(again);
    expect(await flagsOf(firm)).toEqual([]);
    await crew.push({ kind: 'kit-check', verb: 'void', id: again.id, base: { rev: 1 }, reason: 'of another crew' });
    expect((await flagsOf(firm)).map(({ rule }) => rule)).toEqual(['kit-item-expired', 'kit-item-short']);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D9] stays reviewed while the check says the same', async () => {
    const { firm, admin, crew } = await newFirm();
    const first = kit(firm, SHORT, 0);
    await crew.push(first);
    const [flag] = await flagsOf(firm);
    const observed = firm.observed(minute(5));
    const set = {
      flag: flag?.id,
      evidenceHash: flag?.hash,
      decision: 'no-action',
      observed,
    };
    expect(await admin.push({ kind: 'flag-review', set })).toMatchObject([{ outcome: 'applied' }]);
    expect(await flagsOf(firm)).toMatchObject([{ standing: 'reviewed' }]);
    const more = { remark: 'counted twice' };
    await crew.push({ kind: 'kit-check', verb: 'amend', id: first.id, base: { rev: 1 }, set: more, reason: 'more' });
    expect(await flagsOf(firm)).toMatchObject([{ standing: 'reviewed' }]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });
});

describe('a number on two samples or blanks of an event', () => {
  it('[D1] is asked about, with both named, until it is on one alone', async () => {
    const { firm, admin, crew } = await newFirm();
    const { ids, drafts } = visitDrafts(firm);
    const other = visitDrafts(firm);
    const first = sampleOf(ids.visit, 'S-7', 30);
    const second = sampleOf(other.ids.visit, 'S-7', 45);
    await crew.push(...drafts, first);
    expect(await flagsOf(firm)).toEqual([]);
    await crew.push(...other.drafts, second);
    const [flag] = await flagsOf(firm);
    expect(flag).toMatchObject({ rule: 'sample-number-twice', subject: firm.ids.event, standing: 'raised' });
    expect(flag?.sentence).toMatch(
      /^The number S-7 is on 2 samples or blanks of this event: a sample of .* and a sample/,
    );
    await admin.push(blankOf(firm, 'S-7'));
    expect((await flagsOf(firm))[0]?.sentence).toContain('is on 3 samples or blanks');
    await crew.push({ kind: 'sample', verb: 'amend', id: second.id, base: { rev: 1 }, set: { number: 'S-8' } });
    expect((await flagsOf(firm))[0]?.sentence).toContain('a sample of 2026-05-04');
    await admin.push({ kind: 'visit', verb: 'void', id: ids.visit, base: { rev: 1 }, reason: 'was entered twice' });
    expect(await flagsOf(firm)).toEqual([]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });

  it('[D9] goes with a visit into the right event', async () => {
    const { firm, admin, crew } = await newFirm();
    const event = v7();
    const { ids, drafts } = visitDrafts(firm);
    const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
    const dates = { starts: '2026-05-04', ends: '2026-05-05', standing: 'open' };
    await admin.push({ kind: 'event', id: event, set: { site: firm.ids.site, name: 'Extra', ...dates, plan } });
    await crew.push(...drafts, sampleOf(ids.visit, 'S-7', 30), blankOf(firm, 'S-7'));
    expect(await flagsOf(firm)).toMatchObject([{ subject: firm.ids.event }]);
    const move = { kind: 'visit', verb: 'rehome', id: ids.visit, base: { rev: 1 }, reason: 'of the extra round' };
    await admin.push({ ...move, set: { event } });
    expect(await flagsOf(firm)).toEqual([]);
    await admin.push({ ...blankOf(firm, 'S-7'), set: { ...blankOf(firm, 'S-7').set, event } });
    expect(await flagsOf(firm)).toMatchObject([{ subject: event }]);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });
});

describe('kits and numbers together', () => {
  it('[D8] end with the same flags in any order and any groups', async () => {
    const told: unknown[] = [];
    for (const seed of [1, 2, 3]) {
      const { firm, crew } = await newFirm();
      const { ids, drafts } = visitDrafts(firm);
      await crew.push(...drafts);
      const all = [
        kit(firm, SHORT, 0),
        kit(firm, EXPIRED, 10),
        ...['S-7', 'S-7', 'S-8'].map((number, at) => sampleOf(ids.visit, number, 20 + at)),
        blankOf(firm, 'S-8'),
        blankOf(firm, 'S-9'),
      ];
      const chance = seeded(seed);
      const mixed = all.map((draft) => ({ draft, place: chance() })).toSorted((a, b) => a.place - b.place);
      while (mixed.length > 0)
        await crew.push(...mixed.splice(0, 1 + Math.floor(chance() * 3)).map((one) => one.draft));
      told.push((await flagsOf(firm)).map(({ rule, sentence }) => `${rule} ${sentence}`).toSorted());
      expect(await recompute(db.pool, firm.id)).toEqual([]);
    }
    expect(told[0]).toHaveLength(3);
    expect(told[1]).toEqual(told[0]);
    expect(told[2]).toEqual(told[0]);
  });

  it('are found where an older version derived nothing of them, and taken back where nothing gives rise to them', async () => {
    const { firm, crew } = await newFirm();
    const { ids, drafts } = visitDrafts(firm);
    await crew.push(...drafts, kit(firm, SHORT, 0), sampleOf(ids.visit, 'S-7', 20), blankOf(firm, 'S-7'));
    const before = await flagsOf(firm);
    expect(before).toHaveLength(2);
    await asOlder(firm);
    expect(await flagsOf(firm)).toHaveLength(1);
    expect(await recompute(db.pool, firm.id)).toHaveLength(2);
    await deriveAgain(db.pool, firm.id, () => new Date(firm.nowMs));
    expect(await flagsOf(firm)).toEqual(before);
    expect(await recompute(db.pool, firm.id)).toEqual([]);
  });
});
