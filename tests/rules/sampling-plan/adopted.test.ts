import { describe, expect, it } from 'vitest';
import { owedQcTold } from '../../../src/rules/sampling-plan/owed-qc-told.ts';
import { planChanges } from '../../../src/rules/sampling-plan/plan-changes.ts';
import { samplingPlanTold } from '../../../src/rules/sampling-plan/plan-told.ts';
import { idOf, TestRound } from './plan-facts.ts';

function told(round: TestRound) {
  return samplingPlanTold(round.propose(), round.facts());
}

function changesNow(round: TestRound): number {
  return planChanges(round.propose(), round.facts(), () => 0.5).flat().length;
}

function bottle(round: TestRound, sample: string, label: string, group = 'volatiles', suite = 'VOC'): void {
  const fields = { event: round.event, sample, group, suite, type: 'vial', volumeMl: '40', label, standing: 'filled' };
  round.put('container', idOf(label), fields);
}

const normalsAt = (round: TestRound, well: string) =>
  round.planned('normal').filter(({ fields }) => fields.well === idOf(well));

describe('a sample that a crew took before anything was planned', () => {
  it('is of the plan with its containers: nothing is planned beside it, and it is said', () => {
    const round = new TestRound({ wells: 3 });
    const sample = round.sample(1);
    for (const label of ['a-1', 'a-2', 'a-3']) bottle(round, sample, label);
    const { adopted, notes, frequencies, bottleOrder } = told(round);
    expect(adopted).toMatchObject([
      {
        sample,
        blank: null,
        type: 'normal',
        number: 'S-1',
        wellName: 'W-001',
        suites: ['VOC'],
        collected: '2026-05-04T10:30:00-05:00',
      },
    ]);
    expect(adopted[0]?.containers).toMatchObject([{ count: 3, standing: 'filled' }]);
    expect(adopted[0]?.containers[0]?.labels.toSorted()).toEqual(['a-1', 'a-2', 'a-3']);
    expect(notes).toContain(
      'Well W-001 was sampled without being planned: S-1 (VOC) is of the plan as it is, and nothing more is planned there.',
    );
    // it counts among the samples by which QC is asked for, and among the bottles
    expect(frequencies.find(({ type }) => type === 'blind-duplicate')).toMatchObject({
      samples: 3,
      asked: 1,
      planned: 1,
    });
    expect(bottleOrder.reduce((sum, { filled }) => sum + filled, 0)).toBe(3);
    round.plan();
    expect(normalsAt(round, 'W-001')).toHaveLength(0);
    expect(round.planned('normal')).toHaveLength(2);
    expect(round.ofKind('sample')).toHaveLength(1);
    expect([changesNow(round), told(round).isWritten]).toEqual([0, true]);
    // nothing more can be filled beside it
    for (const type of ['blind-duplicate', 'matrix-spike'])
      expect(round.planned(type).map(({ fields }) => fields.well)).not.toContain(idOf('W-001'));
  });

  it('leaves planned what it was not for, and once that was taken both stay', () => {
    const round = new TestRound({ wells: 2, suites: ['VOC', 'Metals'] });
    round.sample(1, {}, false);
    round.plan();
    expect(normalsAt(round, 'W-001').map(({ fields }) => fields.suites)).toEqual([['Metals']]);
    expect(told(round).notes.join()).toContain('and planned there is only Metals');
    const [rest] = normalsAt(round, 'W-001');
    const more = { visit: idOf('visit W-001'), collected: '2026-05-04T10:50:00-05:00', suites: ['Metals'] };
    round.put('sample', idOf('rest'), { ...more, number: rest?.fields.number, planned: rest?.id });
    round.plan();
    expect(normalsAt(round, 'W-001').map(({ fields }) => fields.suites)).toEqual([['Metals']]);
    expect(told(round).adopted.map(({ number }) => number)).toEqual(['S-1']);
    expect(changesNow(round)).toBe(0);
  });

  it('takes the place of what was planned under another number, until it is taken back', () => {
    const round = new TestRound({ wells: 2 });
    round.plan();
    const sample = round.sample(1, { number: 'S-1', planned: undefined });
    round.plan();
    expect(normalsAt(round, 'W-001')).toHaveLength(0);
    expect(round.planned('normal', 'dropped').map(({ fields }) => fields.droppedBecause)).toEqual([
      'By the plan: its suites were taken as S-1',
    ]);
    expect(changesNow(round)).toBe(0);
    round.void(sample);
    round.plan();
    expect(normalsAt(round, 'W-001')).toHaveLength(1);
    expect(told(round).adopted).toEqual([]);
  });

  it('takes the place of one that a person planned for the same, until it is taken back', () => {
    const round = new TestRound({ wells: 2, sampling: { duplicatesPer: 2 } });
    const hand = { event: round.event, number: 'H-1', type: 'normal', well: idOf('W-001'), suites: ['VOC'] };
    round.put('planned-sample', idOf('hand'), { ...hand, standing: 'planned' });
    round.plan();
    expect(normalsAt(round, 'W-001').map(({ fields }) => fields.number)).toEqual(['H-1']);
    const counts = () => told(round).frequencies.find(({ type }) => type === 'blind-duplicate');
    const sample = round.sample(1, { number: 'X-1', planned: undefined });
    expect(counts()).toMatchObject({ samples: 2, asked: 1 });
    round.plan();
    expect([normalsAt(round, 'W-001'), changesNow(round)]).toEqual([[], 0]);
    expect(told(round).adopted.map(({ number }) => number)).toEqual(['X-1']);
    round.void(sample);
    round.plan();
    expect(normalsAt(round, 'W-001').map(({ fields }) => fields.number)).toEqual(['H-1']);
    expect(changesNow(round)).toBe(0);
    // once it was taken itself, another one beside it is no further sample of the plan
    const taken = { visit: idOf('visit W-001'), suites: ['VOC'], collected: '2026-05-04T10:50:00-05:00' };
    round.put('sample', idOf('taken'), { ...taken, number: 'H-1', planned: idOf('hand') });
    round.put('sample', idOf('beside'), { ...taken, number: 'X-2' });
    expect([counts(), told(round).adopted]).toMatchObject([{ samples: 2, asked: 1 }, []]);
  });

  it('is none where it is a duplicate: its suites stay planned at its well', () => {
    const round = new TestRound({ wells: 2 });
    round.sample(1, { type: 'duplicate', number: 'D-1' }, false);
    expect(told(round).adopted).toEqual([]);
    round.plan();
    expect(normalsAt(round, 'W-001')).toHaveLength(1);
  });

  it('is what was planned where it has its number, or its bottles, and does not say so', () => {
    const round = new TestRound({ wells: 3 });
    round.plan();
    for (const at of [1, 2]) {
      const [planned] = normalsAt(round, `W-00${at}`);
      const number = at === 1 ? planned?.fields.number : 'typed wrong';
      const sample = round.sample(at, { planned: undefined, number });
      if (at === 2)
        for (const { id } of round.containersOf(planned?.id ?? '')) round.amend(id, { sample, standing: 'filled' });
    }
    const { adopted, samples } = told(round);
    expect(adopted).toEqual([]);
    const normal = samples.filter(({ type }) => type === 'normal').map(({ isTaken, standing }) => [isTaken, standing]);
    expect(normal).toEqual([
      [true, 'planned'],
      [true, 'planned'],
      [false, 'planned'],
    ]);
  });
});

describe('a blank that a crew took before anything was planned', () => {
  const equipment = { rinsatePer: 'unit-and-day' };

  function withBlanks(): TestRound {
    const round = new TestRound({ wells: 4, equipment, ends: '2026-05-05', crews: 1 });
    round.pumps = [
      { unit: idOf('P-1'), label: 'P-1', type: 'bladder-pump', crew: idOf('crew-1'), from: '2026-05-04', until: null },
    ];
    // half past seven in the evening of the fourth, there
    const blank = { event: round.event, suites: ['VOC'], collected: '2026-05-05T00:30:00Z' };
    round.put('blank', idOf('rinsate'), { ...blank, type: 'equipment', number: 'R-1', unit: idOf('P-1') });
    round.put('blank', idOf('field'), { ...blank, type: 'field', number: 'F-1' });
    return round;
  }

  const remarks = (round: TestRound, type: string) => round.planned(type).map(({ fields }) => fields.remark);

  it('does for its unit and day, or its day: the plan asks for the rest', () => {
    const round = withBlanks();
    const { adopted, frequencies } = told(round);
    expect(adopted.map(({ blank, sample, type, number }) => [blank, sample, type, number])).toEqual([
      [idOf('rinsate'), null, 'equipment-blank', 'R-1'],
      [idOf('field'), null, 'field-blank', 'F-1'],
    ]);
    for (const of of ['equipment-blank', 'field-blank'])
      expect(frequencies.find(({ type }) => type === of)).toMatchObject({ asked: 2, planned: 2 });
    round.plan();
    expect(remarks(round, 'equipment-blank')).toEqual(['Equipment blank through P-1 (bladder-pump), 2026-05-05']);
    expect(remarks(round, 'field-blank')).toEqual(['Field blank, 2026-05-05']);
    expect(changesNow(round)).toBe(0);
  });

  it('of another day does for nothing', () => {
    const round = withBlanks();
    for (const one of ['rinsate', 'field']) round.amend(idOf(one), { collected: '2026-05-03T12:00:00-05:00' });
    round.plan();
    expect(told(round).adopted).toEqual([]);
    expect([remarks(round, 'equipment-blank').length, remarks(round, 'field-blank').length]).toEqual([2, 2]);
  });

  it('of another unit, or for other suites, does for nothing', () => {
    const round = withBlanks();
    round.amend(idOf('rinsate'), { unit: idOf('P-9') });
    round.amend(idOf('field'), { suites: ['Metals'] });
    round.plan();
    expect(told(round).adopted).toEqual([]);
    expect([remarks(round, 'equipment-blank').length, remarks(round, 'field-blank').length]).toEqual([2, 2]);
  });

  const field = (suites: readonly string[], given: object = {}) => {
    const round = new TestRound({ wells: 2, suites: ['VOC', 'PFAS'], ...given });
    const taken = { type: 'field', suites, collected: '2026-05-04T12:00:00-05:00' };
    round.put('blank', idOf('field'), { event: round.event, number: 'F-1', ...taken });
    round.sample(1, { suites: ['VOC', 'PFAS'] });
    round.plan();
    expect(changesNow(round)).toBe(0);
    const planned = round
      .planned('field-blank')
      .map(({ id, fields }) => [
        fields.remark,
        fields.suites,
        [...new Set(round.containersOf(id).map((one) => one.fields.suite))],
      ]);
    const count = told(round).frequencies.find(({ type }) => type === 'field-blank');
    const owed = owedQcTold(round.facts(), { day: '2026-05-04' }).types.find(({ type }) => type === 'field-blank');
    return { planned, count: [count?.asked, count?.planned], owed: owed?.missing };
  };

  it('leaves planned the suites that it was not for', () => {
    const { planned, count, owed } = field(['VOC'], { sampling: { fieldBlanksPer: 'day' } });
    expect(planned).toEqual([['Field blank, 2026-05-04', ['PFAS'], ['PFAS']]]);
    expect([count, owed]).toEqual([[1, 1], ['on 2026-05-04, for PFAS']]);
  });

  it('does for several that are asked for where it has the suites of each', () => {
    expect(field(['VOC', 'PFAS'])).toEqual({ planned: [], count: [2, 2], owed: [] });
    expect(field(['VOC']).planned).toEqual([['Field blank for PFAS of the event', ['PFAS'], ['PFAS']]]);
  });

  it('of equipment leaves planned the suites that it was not for, and none where it names none', () => {
    for (const [suites, left] of [
      [['Metals'], [['VOC']]],
      [['VOC', 'Metals'], []],
      [[], []],
    ]) {
      const round = new TestRound({ wells: 2, suites: ['VOC', 'Metals'], equipment, crews: 1 });
      const pump = { unit: idOf('P-1'), label: 'P-1', type: 'bladder-pump', crew: idOf('crew-1') };
      round.pumps = [{ ...pump, from: '2026-05-04', until: null }];
      const blank = { event: round.event, type: 'equipment', number: 'R-1', unit: idOf('P-1'), suites };
      round.put('blank', idOf('rinsate'), { ...blank, collected: '2026-05-04T12:00:00-05:00' });
      round.plan();
      expect(round.planned('equipment-blank').map(({ fields }) => fields.suites)).toEqual(left);
      expect(changesNow(round)).toBe(0);
    }
  });

  it('of equipment does for one crew of two that signed out no pump', () => {
    const round = new TestRound({ wells: 4, equipment });
    const blank = { event: round.event, type: 'equipment', number: 'R-1', suites: ['VOC'] };
    round.put('blank', idOf('rinsate'), { ...blank, collected: '2026-05-04T12:00:00-05:00' });
    round.plan();
    expect([told(round).adopted.length, remarks(round, 'equipment-blank').length]).toEqual([1, 1]);
    expect(changesNow(round)).toBe(0);
  });

  it('is the planned one where it has its number', () => {
    const round = withBlanks();
    for (const one of ['rinsate', 'field']) round.void(idOf(one));
    round.plan();
    const [planned] = round.planned('field-blank').filter(({ fields }) => fields.remark === 'Field blank, 2026-05-05');
    const fields = { event: round.event, type: 'field', suites: ['VOC'], collected: '2026-05-04T12:00:00-05:00' };
    round.put('blank', idOf('by number'), { ...fields, number: planned?.fields.number });
    expect(told(round).adopted).toEqual([]);
    expect(told(round).samples.find((one) => one.planned === planned?.id)?.isTaken).toBe(true);
    expect(changesNow(round)).toBe(0);
  });
});
