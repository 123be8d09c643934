import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { deriveAgain } from '../../src/writes/derive-again.ts';
import { at, Day } from '../rules/equipment/equipment-day.ts';
import { idOf, recordSteps } from '../support/equipment-drafts.ts';
import { EquipmentFirm } from '../support/equipment-firm.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import type { Draft } from '../support/test-firm.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

/** Two pumps, each cleaned before its wells: P-1 at MW-1 and MW-2, P-2 at MW-3. */
async function aFirm() {
  const firm = await new EquipmentFirm(db.pool, db.bypass).setUp();
  const day = new Day();
  for (const pump of ['P-1', 'P-2']) day.unit(pump);
  for (const well of ['MW-1', 'MW-2', 'MW-3']) day.well(well);
  day.unit('M-1', { type: 'multi-parameter-meter' });
  const first = day.decon('P-1', '07:00', '07:30');
  day.decon('P-2', '07:00', '07:30');
  const setUp = day.pumped('v1', 'MW-1', 'P-1', '08:00', '09:00');
  const decon = day.decon('P-1', '09:10', '09:40');
  day.pumped('v2', 'MW-2', 'P-1', '10:00', '11:00');
  day.pumped('v3', 'MW-3', 'P-2', '12:00', '13:00');
  day.decon('P-2', '13:10', '13:40');
  day.decon('P-1', '11:10', '11:40');
  recordSteps(day);
  await firm.push(firm.draftsOf(day, {}));
  const ids = { decon: idOf(decon.id), first: idOf(first.id), setUp: idOf(setUp.id), p1: idOf('P-1'), p2: idOf('P-2') };
  const one = async (draft: Draft) => {
    const [outcome] = (await firm.clients[0]?.push(draft)) ?? [];
    expect(outcome?.outcome).toBe('applied');
    expect(await firm.differences()).toEqual([]);
  };
  const told = async () => (await firm.flags()).map(({ rule, subject, unit }) => ({ rule, subject, unit }));
  return { firm, ids, one, told };
}

const reason = 'of a test';

describe('what is corrected weeks later', () => {
  it('[D9] a decon that is voided leaves its unit used, and asks about the next well', async () => {
    const { firm, ids, one, told } = await aFirm();
    expect(await told()).toEqual([]);
    expect((await firm.stateOf(ids.p1))?.fields).toMatchObject({ state: 'clean', since: at('11:40') });
    await one({ verb: 'void', kind: 'decon', id: ids.decon, base: { rev: 1 }, reason });
    expect(await told()).toEqual([{ rule: 'used-unit-into-well', subject: idOf('v2'), unit: ids.p1 }]);
    const rev = (await firm.stateOf(ids.p2))?.rev;
    expect((await firm.stateOf(ids.p2))?.rev).toBe(rev);
    await one({
      kind: 'decon',
      set: { unit: ids.p1, protocol: 'pump-flush', began: at('09:20'), observed: firm.firm.observed(at('09:20')) },
    });
    expect((await told()).map(({ rule }) => rule)).toEqual(['decon-incomplete-at-next-use']);
  });

  it('[D9] [W16] a visit that is only asked about stays as it is, though a decision comes in the same push', async () => {
    const { firm, ids, told } = await aFirm();
    const summaries = async () =>
      (await firm.told('visit-summary')).map(({ id, rev, fields }) => ({ id, rev, fields }));
    const before = await summaries();
    const voided: Draft = { verb: 'void', kind: 'decon', id: ids.decon, base: { rev: 1 }, reason };
    const decided: Draft = {
      verb: 'resolve',
      kind: 'conflict',
      id: v7(),
      base: { rev: 1 },
      set: { value: 'one' },
      reason,
    };
    const [visit] = await firm.told('visit');
    const { event, crew } = visit?.fields ?? {};
    const set = { event, crew, well: idOf('MW-2'), method: 'low-flow', arrived: at('14:00') };
    const beside: Draft = { kind: 'visit', set };
    const outcomes = (await firm.clients[0]?.push(beside, voided, decided)) ?? [];
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(['applied', 'applied', 'set_aside']);
    expect(await told()).toEqual([{ rule: 'used-unit-into-well', subject: idOf('v2'), unit: ids.p1 }]);
    expect(await firm.differences()).toEqual([]);
    expect(await summaries()).toEqual(expect.arrayContaining(before));
  });

  it('[D9] a visit that is moved to another well takes its units along', async () => {
    const { firm, ids, one, told } = await aFirm();
    await one({ verb: 'void', kind: 'decon', id: ids.decon, base: { rev: 1 }, reason });
    await one({ verb: 'rehome', kind: 'visit', id: idOf('v2'), base: { rev: 1 }, set: { well: idOf('MW-1') }, reason });
    expect(await told()).toEqual([]);
    expect((await firm.stateOf(ids.p1))?.fields).toMatchObject({ state: 'clean' });
    await one({ verb: 'rehome', kind: 'visit', id: idOf('v2'), base: { rev: 2 }, set: { well: idOf('MW-3') }, reason });
    const [flag] = await firm.flags();
    expect(flag).toMatchObject({ rule: 'used-unit-into-well', well: idOf('MW-3') });
  });

  it('[D9] a pump that was another changes the states and flags of both', async () => {
    const { firm, ids, one, told } = await aFirm();
    const observed = firm.firm.observed(at('08:00'));
    await one({
      verb: 'amend',
      kind: 'pump-set-up',
      id: ids.setUp,
      base: { rev: 1 },
      set: { pump: ids.p2, observed },
      reason,
    });
    expect(await told()).toEqual([{ rule: 'used-unit-into-well', subject: idOf('v3'), unit: ids.p2 }]);
    await one({ verb: 'amend', kind: 'pump-set-up', id: ids.setUp, base: { rev: 2 }, set: { pump: ids.p1 }, reason });
    expect(await told()).toEqual([]);
  });

  it('[D9] a flag that somebody looked at stays so until it rests on something else', async () => {
    const { firm, ids, one } = await aFirm();
    await one({ verb: 'void', kind: 'decon', id: ids.decon, base: { rev: 1 }, reason });
    const flag = async () => (await firm.told('flag')).find(({ fields }) => fields.unit === ids.p1);
    const { evidenceHash } = (await flag())?.fields ?? {};
    const review = {
      kind: 'flag-review',
      id: v7(),
      set: {
        flag: (await flag())?.id,
        evidenceHash,
        decision: 'no-action',
        observed: firm.firm.observed(at('05-25 09:00')),
      },
    };
    await one(review);
    expect((await flag())?.fields).toMatchObject({ standing: 'reviewed', review: review.id });
    // what has nothing to do with it leaves it as it is, also where the unit is derived anew
    const { rev } = (await flag()) ?? {};
    await one({
      kind: 'unit-service',
      set: { unit: ids.p1, type: 'inspected', result: 'pass', observed: firm.firm.observed(at('05-26 09:00')) },
    });
    expect((await flag())?.rev).toBe(rev);
    // it goes away and comes back, and rests on the same
    await one({ verb: 'rehome', kind: 'visit', id: idOf('v2'), base: { rev: 1 }, set: { well: idOf('MW-1') }, reason });
    expect(await flag()).toBeUndefined();
    await one({ verb: 'rehome', kind: 'visit', id: idOf('v2'), base: { rev: 2 }, set: { well: idOf('MW-2') }, reason });
    expect((await flag())?.fields).toMatchObject({ standing: 'reviewed' });
    const moved = { observed: firm.firm.observed(at('08:05')) };
    await one({ verb: 'amend', kind: 'pump-set-up', id: ids.setUp, base: { rev: 1 }, set: moved, reason });
    expect((await flag())?.fields).toMatchObject({ standing: 'raised' });
    await one({ verb: 'void', kind: 'flag-review', id: review.id, base: { rev: 1 }, reason });
  });

  it('[D10] the readings of a visit make one new revision of the state of their meter, whatever their number', async () => {
    const { firm } = await aFirm();
    const [client] = firm.clients;
    const meter = idOf('M-1');
    const before = (await firm.stateOf(meter))?.rev ?? 0;
    const purge = v7();
    await client?.push({ kind: 'purge', id: purge, set: { visit: idOf('v2'), began: at('10:05') } });
    const reading = (minute: number): Draft => {
      const observed = firm.firm.observed(at(`10:${String(minute).padStart(2, '0')}`));
      return { kind: 'reading', set: { purge, meter, ph: '7.0', observed } };
    };
    for (let minute = 10; minute < 40; minute += 1) await client?.push(reading(minute));
    await client?.push(...[40, 41, 42, 43].map(reading));
    const state = await firm.stateOf(meter);
    expect(state).toMatchObject({ rev: before + 1, fields: { state: 'used', since: at('10:10') } });
    expect(await firm.differences()).toEqual([]);
    await client?.push(reading(8));
    expect(await firm.stateOf(meter)).toMatchObject({ rev: before + 2, fields: { since: at('10:08') } });
    expect(await firm.differences()).toEqual([]);
  });

  it('[D6] what was tampered with is named, and derived again', async () => {
    const { firm, ids } = await aFirm();
    const { id } = (await firm.stateOf(ids.p1)) ?? {};
    const tampered = `update ledger set state = jsonb_set(state::jsonb, '{fields,state}', '"used"')::json
where firm = $1 and record = $2`;
    const owner = await db.owner();
    await owner.query('begin');
    await owner.query('alter table ledger disable trigger all');
    await owner.query(`select set_config('wellround.firm', $1, true)`, [firm.firm.id]);
    await owner.query(tampered, [firm.firm.id, id]);
    await owner.query('alter table ledger enable trigger all');
    await owner.query('commit');
    await owner.end();
    const named = (await firm.differences()).filter(({ what }) => what === 'derived');
    expect(named).toMatchObject([{ kind: 'unit-state', id }]);
    const changes = await deriveAgain(db.pool, firm.firm.id, () => new Date(firm.firm.nowMs));
    expect(changes.get('unit-state')).toEqual({ written: 1, withdrawn: 0 });
    expect((await firm.differences()).filter(({ what }) => what === 'derived')).toEqual([]);
  });
});
