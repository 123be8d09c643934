import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { oneGroup } from '../support/one-group.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { batchOf, type Draft, type OutcomeLike, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute, purgeDrafts, readingDraft, visitDrafts } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let crew: TestClient;
let other: TestClient;
let office: TestClient;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
  crew = await firm.client('crew', firm.ids.phone);
  other = await firm.client('crew', firm.ids.otherPhone);
  office = await firm.client('coordinator');
});
afterAll(() => db.drop());

/** Every derived record that is stored follows from the ledger, and all that follows is stored. */
async function expectSound(): Promise<void> {
  expect(await recompute(db.pool, firm.id)).toEqual([]);
}

/** Batches of several clients in one transaction. */
async function together(...pushes: readonly (readonly [TestClient, readonly Draft[]])[]): Promise<OutcomeLike[][]> {
  const batches = pushes.map(([client, drafts]) => {
    const first = client.next;
    return batchOf(
      client.actor,
      client.id,
      first,
      drafts.map((draft) => client.line(draft)),
    );
  });
  const answers = await oneGroup(firm, ...batches);
  return answers.map((answer) => crew.outcomes(answer));
}

async function rows(text: string, ...values: unknown[]): Promise<unknown[]> {
  return (await db.bypass.query(text, values)).rows;
}

const amend = (kind: string, id: string, base: object, set: object, reason = 'misread'): Draft => {
  return { verb: 'amend', kind, id, base, set: { ...set }, reason };
};

async function aReading(): Promise<{ visit: string; purge: string; reading: string }> {
  const { ids, drafts } = visitDrafts(firm);
  const reading = readingDraft(firm, ids.purge, 5);
  await crew.push(...drafts, reading);
  return { ...ids, reading: reading.id ?? '' };
}

function conflictOf(subject: string): Promise<{ id: string; rev: number; standing: string; voided: boolean }[]> {
  return rows('select id, rev, standing, voided from conflict where subject = $1', subject) as never;
}

describe('conflicts within one transaction', () => {
  it('[M8] two people who decide one conflict at once do not overrule each other unseen', async () => {
    const { reading } = await aReading();
    await crew.push(amend('reading', reading, { rev: 1 }, { ph: '7.05' }));
    await other.push(amend('reading', reading, { rev: 1 }, { ph: '7.09' }));
    const [conflict] = await conflictOf(reading);
    const second = await firm.client('coordinator');
    const resolve = (value: string): Draft => {
      return { verb: 'resolve', kind: 'conflict', id: conflict?.id ?? '', base: { rev: 1 }, set: { value } };
    };
    const outcomes = await together([office, [resolve('7.05')]], [second, [resolve('7.09')]]);
    expect(outcomes.flat()).toMatchObject([{ outcome: 'applied' }, { outcome: 'refused', code: 'not_a_conflict' }]);
    await expectSound();
  });

  it('[M8] a rival that comes in the same transaction before the decision is not lost', async () => {
    const { reading } = await aReading();
    await crew.push(amend('reading', reading, { rev: 1 }, { ph: '7.05' }));
    await other.push(amend('reading', reading, { rev: 1 }, { ph: '7.09' }));
    const [conflict] = await conflictOf(reading);
    const third = await firm.client('crew', firm.ids.phone);
    const resolve: Draft = {
      verb: 'resolve',
      kind: 'conflict',
      id: conflict?.id ?? '',
      base: { rev: 1 },
      set: { value: '7.05' },
    };
    const outcomes = await together(
      [third, [amend('reading', reading, { rev: 1 }, { ph: '7.11' })]],
      [office, [resolve]],
    );
    expect(outcomes.flat()).toMatchObject([{ outcome: 'conflict_kept' }, { code: 'conflict_changed' }]);
    expect(await conflictOf(reading)).toMatchObject([{ rev: 2, standing: 'open' }]);
    await expectSound();
  });

  it('[M8] a conflict that comes up in a transaction can be decided in it', async () => {
    const { reading } = await aReading();
    await crew.push(amend('reading', reading, { rev: 1 }, { ph: '7.05' }));
    await other.push(amend('reading', reading, { rev: 1 }, { ph: '7.09' }));
    const [known] = await conflictOf(reading);
    const next = await aReading();
    await crew.push(amend('reading', next.reading, { rev: 1 }, { ph: '7.05' }));
    expect(known?.id).toBeDefined();
    const clash = amend('reading', next.reading, { rev: 1 }, { ph: '7.09' });
    const [first] = (await together([other, [clash]])).flat();
    expect(first).toMatchObject({ outcome: 'conflict_kept', conflicts: [expect.any(String)] });
  });
});

describe('a derived record that comes back', () => {
  it('[D3] goes on in its revisions, so that nobody decides what they have not seen', async () => {
    const { reading } = await aReading();
    await crew.push(amend('reading', reading, { rev: 1 }, { ph: '7.05' }));
    await other.push(amend('reading', reading, { rev: 1 }, { ph: '7.09' }));
    expect(await conflictOf(reading)).toMatchObject([{ rev: 1, standing: 'open', voided: false }]);
    await crew.push(amend('reading', reading, { rev: 3 }, { ph: '7.06' }));
    expect(await conflictOf(reading)).toMatchObject([{ voided: true }]);
    await other.push(amend('reading', reading, { rev: 3 }, { ph: '7.3' }));
    const [again] = await conflictOf(reading);
    expect(again).toMatchObject({ rev: 2, standing: 'open', voided: false });
    const resolve = {
      verb: 'resolve',
      kind: 'conflict',
      id: again?.id ?? '',
      base: { rev: 1 },
      set: { value: '7.06' },
    };
    const [outcome] = await office.push(resolve);
    expect(outcome).toMatchObject({ outcome: 'refused', code: 'conflict_changed' });
    await expectSound();
  });

  it('[D3] does so too among so many changes that these are stored before anything is derived', async () => {
    const { reading } = await aReading();
    const { ids, drafts } = purgeDrafts(firm);
    await crew.push(...drafts);
    await crew.push(amend('reading', reading, { rev: 1 }, { ph: '7.05' }));
    await other.push(amend('reading', reading, { rev: 1 }, { ph: '7.09' }));
    await crew.push(amend('reading', reading, { rev: 3 }, { ph: '7.06' }));
    const many = Array.from({ length: 120 }, (_, at) => readingDraft(firm, ids.purge, at % 60));
    await other.push(...many, amend('reading', reading, { rev: 3 }, { ph: '7.3' }));
    expect(await conflictOf(reading)).toMatchObject([{ rev: 2, standing: 'open', voided: false }]);
    await expectSound();
  });
});

describe('what is derived follows its records', () => {
  it('[D2] is rewritten only where it says something else', async () => {
    const { ids, drafts } = purgeDrafts(firm);
    await crew.push(...drafts);
    await crew.push({ verb: 'amend', kind: 'purge', id: ids.purge, base: { rev: 1 }, set: { remark: 'clear water' } });
    expect(await rows('select rev from assessment where purge = $1', ids.purge)).toEqual([{ rev: 1 }]);
    await crew.push(readingDraft(firm, ids.purge, 25));
    expect(await rows('select rev from assessment where purge = $1', ids.purge)).toEqual([{ rev: 2 }]);
  });

  it('[D1] a reading that goes to the purge of another visit counts there and no longer here', async () => {
    const [from, to] = [purgeDrafts(firm), visitDrafts(firm)];
    await crew.push(...from.drafts, ...to.drafts);
    const moved = from.drafts.slice(-3).map((draft) => draft.id ?? '');
    await crew.push(...moved.map((id) => amend('reading', id, { rev: 1 }, { purge: to.ids.purge }, 'other well')));
    const latest = `select fields from (select l.state->'fields' as fields from head h
join ledger l on l.feed = h.feed and l.seq = h.seq and l.firm = h.firm
where h.kind = 'assessment' and not h.gone and h.parent = $1) a`;
    const [here] = (await rows(latest, from.ids.purge)) as { fields: { window: string[] } }[];
    const [there] = (await rows(latest, to.ids.purge)) as { fields: { window: string[] } }[];
    expect(here?.fields.window).toHaveLength(1);
    expect(there?.fields.window).toHaveLength(3);
    await expectSound();
  });

  it('[D1] a conflict about a reading that goes to another visit goes along', async () => {
    const from = await aReading();
    const to = await aReading();
    await crew.push(amend('reading', from.reading, { rev: 1 }, { ph: '7.05' }));
    await other.push(amend('reading', from.reading, { rev: 1 }, { ph: '7.09' }));
    await crew.push(amend('reading', from.reading, { rev: 3 }, { purge: to.purge }, 'other well'));
    await expectSound();
    expect(await conflictOf(from.reading)).toMatchObject([{ standing: 'open', voided: false }]);
  });

  it('[D1] a meter, tape or cell that is corrected changes what was judged by it', async () => {
    const { ids, drafts } = purgeDrafts(firm, { well: firm.ids.shallow });
    const swapped = { purge: ids.purge, type: 'meter-swapped', meter: firm.ids.otherMeter };
    const level = { visit: ids.visit, purpose: 'before-purge', state: 'measured', depthToWaterFt: '12' };
    await crew.push(
      ...drafts,
      { kind: 'occurrence', set: { ...swapped, observed: firm.observed(minute(12)) } },
      { kind: 'water-level', set: { ...level, observed: firm.observed(minute(-5)) } },
    );
    for (const unit of [firm.ids.meter, firm.ids.otherMeter]) {
      await office.push({ verb: 'amend', kind: 'unit', id: unit, base: { rev: 1 }, set: { flowCellVolumeMl: '5000' } });
      await expectSound();
      await office.push({ verb: 'amend', kind: 'unit', id: unit, base: { rev: 2 }, set: { flowCellVolumeMl: '250' } });
    }
  });

  it('[D1] a well that joins or leaves a nest changes which well was sounded', async () => {
    const { ids, drafts } = visitDrafts(firm, { well: firm.ids.shallow });
    const tape = { visit: ids.visit, depthToBottomFt: '40.1', observed: firm.observed(minute(-10)) };
    await crew.push(...drafts, { kind: 'sounding', set: tape });
    const flags = () =>
      rows(`select rule from flag where visit = $1 and not voided and rule like 'sounding%'`, ids.visit);
    expect(await flags()).toEqual([{ rule: 'sounding-fits-no-well' }]);
    const lone = firm.ids.lone;
    const nest = (rev: number, value: string | null): Draft => {
      return { verb: 'amend', kind: 'well', id: lone, base: { rev }, set: { nest: value } };
    };
    await office.push(nest(1, firm.ids.nest));
    await expectSound();
    expect(await flags()).toEqual([{ rule: 'sounding-fits-another-well' }]);
    await office.push(nest(2, null));
    await expectSound();
    expect(await flags()).toEqual([{ rule: 'sounding-fits-no-well' }]);
    const fresh = { site: firm.ids.site, nest: firm.ids.nest, name: 'W-4M', standing: 'in-service' };
    await office.push({ kind: 'well', set: { ...fresh, depthsFrom: 'measuring-point', totalDepthFt: '40.1' } });
    await expectSound();
    expect(await flags()).toEqual([{ rule: 'sounding-fits-another-well' }]);
  });

  it('[D1] a decided conflict about a well judges the visits to it anew', async () => {
    const own = new TestFirm(db.pool);
    await own.setUp();
    const [phone, one, two] = await Promise.all([
      own.client('crew', own.ids.phone),
      own.client('coordinator'),
      own.client('coordinator'),
    ]);
    const { ids, drafts } = visitDrafts(own, { well: own.ids.shallow });
    const tape = { visit: ids.visit, depthToBottomFt: '25.3', observed: own.observed(minute(-10)) };
    await phone.push(...drafts, { kind: 'sounding', set: tape });
    const flags = () =>
      rows(`select rule from flag where visit = $1 and not voided and rule like 'sounding%'`, ids.visit);
    expect(await flags()).toEqual([]);
    const depth = (client: TestClient, totalDepthFt: string) =>
      client.push({ verb: 'amend', kind: 'well', id: own.ids.shallow, base: { rev: 1 }, set: { totalDepthFt } });
    await depth(one, '40');
    await depth(two, '45');
    expect(await flags()).toEqual([{ rule: 'sounding-fits-no-well' }]);
    const [conflict] = await conflictOf(own.ids.shallow);
    const base = { rev: conflict?.rev ?? 0 };
    const set = { value: '25.3', neither: true };
    await one.push({ verb: 'resolve', kind: 'conflict', id: conflict?.id ?? '', base, set, reason: 'measured anew' });
    expect(await flags()).toEqual([]);
    expect(await recompute(db.pool, own.id)).toEqual([]);
  });

  it('[D1] a plan that is changed judges every visit of the event anew', async () => {
    const own = new TestFirm(db.pool);
    await own.setUp();
    const phone = await own.client('crew', own.ids.phone);
    const { drafts } = purgeDrafts(own);
    await phone.push(...drafts);
    const plan = { criteria: 'epa-region-1-low-stress-rev-4', stabilization: { count: 'comparisons' } };
    const boss = await own.client('coordinator');
    await boss.push({ verb: 'amend', kind: 'event', id: own.ids.event, base: { rev: 1 }, set: { plan } });
    expect(await recompute(db.pool, own.id)).toEqual([]);
    expect(await rows('select rev from assessment where firm = $1', own.id)).toEqual([{ rev: 2 }]);
  });

  it('[D1] a flag that was reviewed is raised again by new evidence', async () => {
    const { ids, drafts } = visitDrafts(firm);
    const odd = readingDraft(firm, ids.purge, 5, { ph: '15.0' });
    await crew.push(...drafts, odd);
    const flags = () =>
      rows(
        `select h.id, l.state->'fields'->>'standing' as standing, l.state->'fields'->>'evidenceHash' as hash
from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.kind = 'flag' and not h.gone and h.parent = $1 and l.state->'fields'->>'rule' = 'value-not-believable'`,
        ids.purge,
      ) as Promise<{ id: string; standing: string; hash: string }[]>;
    const [flag] = await flags();
    const review = {
      flag: flag?.id,
      evidenceHash: flag?.hash,
      decision: 'no-action',
      observed: firm.observed(minute(60)),
    };
    await office.push({ kind: 'flag-review', set: review });
    expect(await flags()).toMatchObject([{ standing: 'reviewed' }]);
    await crew.push(readingDraft(firm, ids.purge, 10, { ph: '16.0' }));
    expect(await flags()).toMatchObject([{ standing: 'raised' }]);
    await crew.push(amend('reading', odd.id ?? '', { rev: 1 }, { ph: '7.1' }));
    await expectSound();
  });
});
