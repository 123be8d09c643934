import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { owedEquipment } from '../../src/reads/owed-equipment.ts';
import { inRead } from '../../src/store/read/transaction.ts';
import { unitHistoryOfEvent } from '../../src/store/read/unit-history.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { type Draft, TestFirm } from '../support/test-firm.ts';
import { clock, deconDrafts, pumpedDrafts } from '../support/unit-drafts.ts';

let db: TestDatabase;
let firm: TestFirm;

beforeAll(async () => {
  db = await testDatabase();
  firm = new TestFirm(db.pool);
  await firm.setUp();
});
afterAll(() => db.drop());

async function push(drafts: readonly Draft[]): Promise<void> {
  const outcomes = await (await firm.client('admin')).push(...drafts);
  expect(outcomes.filter(({ outcome }) => outcome !== 'applied')).toEqual([]);
}

const owed = (day: string) =>
  inRead(db.pool, firm.id, (tx) => owedEquipment(tx, null, firm.ids.event, { day, now: clock('20:00') }));

async function rowsLookedAt(): Promise<number> {
  const given = { event: firm.ids.event, since: '2026-03-20' };
  const { pump, otherPump } = firm.ids;
  const states = await inRead(db.pool, firm.id, (tx) => unitHistoryOfEvent(tx, [pump, otherPump], [], given));
  return [...states.values()].flat().length;
}

function withoutDrum(drafts: readonly Draft[]): Draft[] {
  return drafts.map((draft) => {
    if (draft.kind !== 'decon') return draft;
    const { wasteTo: _, ...set } = draft.set as Record<string, unknown>;
    return { ...draft, set };
  });
}

/** A round of last winter: its wells, and each time the pump was cleaned. */
function round(event: string, day: string): Draft[] {
  const { pump, lone, site } = firm.ids;
  const plan = { criteria: 'epa-region-1-low-stress-rev-4' };
  const dates = { starts: `2026-${day}`, ends: `2026-${day}`, standing: 'closed' };
  const visit = { well: lone, pump, from: `${day} 08:00`, number: `S-${day}`, event };
  return [
    { kind: 'event', id: event, set: { site, name: day, ...dates, plan } },
    ...deconDrafts(firm, pump, `${day} 07:00`).drafts,
    ...pumpedDrafts(firm, visit).drafts,
    ...deconDrafts(firm, pump, `${day} 09:00`).drafts,
  ];
}

describe('what the equipment of an event owes', () => {
  it('looks at the event and not at what was before it, however long that is', async () => {
    const { pump, deep } = firm.ids;
    const visit = { well: deep, pump, from: '08:00', number: 'S-1' };
    await push([...deconDrafts(firm, pump, '07:00').drafts, ...pumpedDrafts(firm, visit).drafts]);
    const [before, told] = [await rowsLookedAt(), await owed('2026-05-04')];
    expect(told.items.map(({ code, unit }) => [code, unit])).toEqual([['unit-left-uncleaned', pump]]);
    for (const day of ['01-12', '01-19', '02-02', '02-16']) await push(round(v7(), day));
    expect(await rowsLookedAt()).toBe(before);
    expect(await owed('2026-05-04')).toEqual(told);
  });

  it('has what was asked about its units before, and is not done', async () => {
    const { event, otherPump, north } = firm.ids;
    const at = clock('06:30');
    const { drafts, id } = deconDrafts(firm, otherPump, '01-10 09:00');
    const signOut = { unit: otherPump, crew: north, event, from: at, observed: firm.observed(at) };
    await push([...withoutDrum(drafts), { kind: 'sign-out', set: signOut }]);
    const ofPump = async () => (await owed('2026-05-04')).items.filter(({ unit }) => unit === otherPump);
    expect(await ofPump()).toMatchObject([{ code: 'decon-water-without-drum', label: 'Pump B', evidence: [id] }]);
    await push([{ kind: 'decon', verb: 'amend', id, base: { rev: 1 }, set: { wasteTo: 'Drum 1' } }]);
    expect(await ofPump()).toEqual([]);
  });
});
