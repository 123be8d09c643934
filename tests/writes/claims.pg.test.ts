import { v7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { recompute } from '../../src/writes/recompute.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, type OutcomeLike, type TestClient, TestFirm } from '../support/test-firm.ts';
import { minute } from '../support/visit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;
let north: TestClient;
let south: TestClient;
let office: TestClient;

beforeAll(async () => {
  db = await testDatabase();
});
beforeEach(async () => {
  firm = new TestFirm(db.pool);
  await firm.setUp();
  north = await firm.client('crew', firm.ids.phone);
  south = await firm.client('crew', firm.ids.otherPhone);
  office = await firm.client('coordinator');
});
afterAll(() => db.drop());

function claim(crew: 'north' | 'south', more: object = {}): Draft & { readonly id: string } {
  const { event, lone, pump, otherPump } = firm.ids;
  const set = { event, well: lone, crew: firm.ids[crew], pump: crew === 'north' ? pump : otherPump };
  return {
    kind: 'well-claim',
    id: v7(),
    set: { ...set, from: minute(0), observed: firm.observed(minute(0)), ...more },
  };
}

interface StoredConflict {
  readonly id: string;
  readonly rev: number;
  readonly fields: { readonly sentence: string; readonly standing: string; readonly certainty: string };
}

async function clashes(): Promise<StoredConflict[]> {
  const text = `select h.id, h.rev, l.state->'fields' as fields from head h
join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and h.kind = 'conflict' and not h.gone`;
  return (await db.bypass.query<StoredConflict>(text, [firm.id])).rows;
}

async function expectSound(): Promise<void> {
  expect(await recompute(db.pool, firm.id)).toEqual([]);
}

describe('two crews at one well', () => {
  it('[M11] with different pumps are both kept, as a conflict for a person', async () => {
    const [first] = await north.push(claim('north'));
    const mine = claim('south', { from: minute(10) });
    const [second] = await south.push(mine);
    expect(first).toMatchObject({ outcome: 'applied' });
    expect(second).toMatchObject({ outcome: 'conflict_kept', id: mine.id, conflicts: [expect.any(String)] });
    const [clash] = await clashes();
    expect(clash?.fields).toMatchObject({
      type: 'well-claim',
      standing: 'open',
      certainty: 'certain',
      subject: mine.id,
    });
    const { rows } = await db.bypass.query('select count(*) from well_claim where firm = $1 and not voided', [firm.id]);
    expect(rows).toEqual([{ count: 2 }]);
    await expectSound();
  });

  it('[M11] that hand over, or work with one pump, or one after the other, are no conflict', async () => {
    const first = claim('north', { until: minute(60) });
    await north.push(first);
    const relief = claim('south', { from: minute(30), handedOverFrom: first.id });
    const [handed] = await south.push(relief);
    const [shared] = await south.push(claim('south', { from: minute(40), pump: firm.ids.pump, until: minute(50) }));
    expect([handed, shared]).toMatchObject([{ outcome: 'applied' }, { outcome: 'applied' }]);
    const other = { well: firm.ids.shallow };
    await north.push(claim('north', { ...other, until: minute(20) }));
    const [later] = await south.push(claim('south', { ...other, from: minute(20) }));
    expect(later).toMatchObject({ outcome: 'applied' });
    expect(await clashes()).toEqual([]);
    await expectSound();
  });

  it('[M11] are possibly a conflict where the clocks may be off by more than they overlap', async () => {
    const sent = { wall: minute(10), monotonicMs: 10_000, boot: 'b' };
    firm.nowMs = Date.parse(minute(14));
    await north.push(claim('north', { until: minute(20) }));
    const clock = { wall: minute(0), monotonicMs: 1_000, boot: 'a', sequence: 1 };
    const line = south.line({ ...claim('south', { from: minute(18) }), clock });
    const bytes = Buffer.from(line);
    const batch = { actor: south.actor, client: south.id, first: 1, lines: [{ bytes, text: line }], schemaVersion: 1 };
    const answer = await firm.lane({ ...batch, sent, roundTripMs: 0, unsent: null, oneShot: false, carried: false });
    expect(south.outcomes(answer)).toMatchObject([{ outcome: 'conflict_kept' }]);
    expect((await clashes())[0]?.fields).toMatchObject({ certainty: 'possible' });
    await expectSound();
  });

  it('[M11] are no conflict any more once one claim ends, is voided, or goes to another well', async () => {
    const [one, other] = [claim('north'), claim('south')];
    await north.push(one);
    await south.push(other);
    const change = (id: string, rev: number, set: object): Draft => {
      return { verb: 'amend', kind: 'well-claim', id, base: { rev }, set: { ...set }, reason: 'misread' };
    };
    await north.push(change(one.id, 1, { well: firm.ids.deep }));
    expect(await clashes()).toEqual([]);
    await expectSound();
    await north.push(change(one.id, 2, { well: firm.ids.lone }));
    expect(await clashes()).toMatchObject([{ rev: 2, fields: { standing: 'open' } }]);
    await south.push({ verb: 'void', kind: 'well-claim', id: other.id, base: { rev: 1 }, reason: 'not there' });
    expect(await clashes()).toEqual([]);
    await expectSound();
  });

  it('[M11] are told by name, also after a crew is renamed', async () => {
    await north.push(claim('north'));
    await south.push(claim('south'));
    await office.push({
      verb: 'amend',
      kind: 'crew',
      id: firm.ids.north,
      base: { rev: 1 },
      set: { name: 'Dawn crew' },
    });
    expect((await clashes())[0]?.fields.sentence).toContain('Dawn crew');
    await office.push({ verb: 'amend', kind: 'unit', id: firm.ids.pump, base: { rev: 1 }, set: { label: 'Pump Z' } });
    expect((await clashes())[0]?.fields.sentence).toContain('Pump Z');
    await expectSound();
  });

  it('[M11] stay as they are when a person decides, and the decision stands', async () => {
    const [one, other] = [claim('north'), claim('south')];
    await north.push(one);
    await south.push(other);
    const [clash] = await clashes();
    const resolve: Draft = {
      verb: 'resolve',
      kind: 'conflict',
      id: clash?.id ?? '',
      base: { rev: clash?.rev ?? 0 },
      reason: 'the north crew was there first',
    };
    const [outcome] = await office.push(resolve);
    expect(outcome).toMatchObject({ outcome: 'applied', kind: 'resolution' });
    expect((await clashes())[0]?.fields).toMatchObject({ standing: 'resolved', resolution: outcome?.id });
    await expectSound();
    const [third] = await north.push(claim('north', { well: firm.ids.deep }));
    expect(third).toMatchObject({ outcome: 'applied' });
    expect((await clashes())[0]?.fields).toMatchObject({ standing: 'resolved' });
  });
});

describe('two crews with one unit', () => {
  function signOut(crew: 'north' | 'south', more: object = {}): Draft & { readonly id: string } {
    const set = { unit: firm.ids.pump, crew: firm.ids[crew], from: minute(0), observed: firm.observed(minute(0)) };
    return { kind: 'sign-out', id: v7(), set: { ...set, ...more } };
  }

  it('[M11] is kept as a conflict, until one of them has brought it back', async () => {
    const first = signOut('north');
    const outcomes: OutcomeLike[] = [...(await north.push(first)), ...(await south.push(signOut('south')))];
    expect(outcomes.map((one) => one.outcome)).toEqual(['applied', 'conflict_kept']);
    expect((await clashes())[0]?.fields).toMatchObject({ type: 'sign-out', standing: 'open' });
    const back = { verb: 'amend', kind: 'sign-out', id: first.id, base: { rev: 1 }, set: { until: minute(0) } };
    await north.push({ ...back, reason: 'never taken' });
    expect(await clashes()).toEqual([]);
    await expectSound();
  });
});
