import { v7 } from 'uuid';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { EquipmentFirm } from '../support/equipment-firm.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import type { Draft } from '../support/test-firm.ts';
import { clock, resultDraft } from '../support/unit-drafts.ts';

let db: TestDatabase;
beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

/** Through a tape at one well; what was found in its sample is stored. */
async function blankThroughTape(link: 'unit' | 'decon') {
  const equipment = await new EquipmentFirm(db.pool, db.bypass).setUp();
  const { firm } = equipment;
  const { event, lone, north } = firm.ids;
  const [tape, visit, sample, blank, decon] = [v7(), v7(), v7(), v7(), v7()];
  const observed = firm.observed(clock('10:05'));
  const arrived = clock('10:00');
  const cleaned = {
    unit: tape,
    protocol: 'tape-wipe',
    against: ['organics'],
    began: clock('11:10'),
    ended: clock('11:20'),
  };
  const through = link === 'unit' ? { unit: tape } : { decon };
  const set = { event, type: 'equipment', number: 'EB-1', collected: clock('11:30'), suites: ['VOC'], ...through };
  const drafts: Draft[] = [
    { kind: 'unit', id: tape, set: { type: 'water-level-tape', label: 'Tape 9', use: 'shared', ownership: 'owned' } },
    { kind: 'visit', id: visit, set: { event, well: lone, crew: north, method: 'low-flow', arrived } },
    {
      kind: 'water-level',
      set: { visit, tape, purpose: 'before-purge', state: 'measured', depthToWaterFt: '21.30', observed },
    },
    { kind: 'sample', id: sample, set: { visit, number: 'S-1', suites: ['VOC'], collected: clock('10:40') } },
    { kind: 'decon', id: decon, set: { ...cleaned, observed: firm.observed(clock('11:20')) } },
    { kind: 'blank', id: blank, set },
    resultDraft(firm, { sample }, '2.0'),
  ];
  await equipment.push(drafts);
  return { equipment, firm, blank };
}

const failed = async (of: EquipmentFirm) =>
  (await of.flags()).filter(({ rule }) => rule === 'equipment-blank-failed').map(({ sentence }) => String(sentence));

it.each(['unit', 'decon'] as const)(
  'what is found in a blank, told alone, questions the samples whose results are here already (by its %s)',
  async (link) => {
    const { equipment, firm, blank } = await blankThroughTape(link);
    await equipment.push([resultDraft(firm, { blank }, '0.8')]);
    const [sentence, ...others] = await failed(equipment);
    expect(others).toEqual([]);
    expect(sentence).toContain('of 1 samples 1 in question');
    expect(await equipment.differences()).toEqual([]);
  },
);

it('the same where it comes among a hundred others', async () => {
  const { equipment, firm, blank } = await blankThroughTape('unit');
  const others = Array.from({ length: 120 }, (_, at): Draft => {
    const { kind, set } = resultDraft(firm, { blank }, null);
    return { kind, set: { ...set, analyte: `Analyte ${at}`, casNumber: undefined } };
  });
  await equipment.push([...others, resultDraft(firm, { blank }, '0.8')], 200);
  expect(await failed(equipment)).toEqual([expect.stringContaining('of 1 samples 1 in question')]);
  expect(await equipment.differences()).toEqual([]);
});
