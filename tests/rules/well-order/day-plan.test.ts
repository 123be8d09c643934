import { describe, expect, it } from 'vitest';
import { type DayPlanInput, type DayStep, dayPlan, type UnitForDay } from '../../../src/rules/well-order/day-plan.ts';
import { level, pce, rankOf } from './levels.ts';

const unit = (id: string, fields: Partial<UnitForDay> = {}): UnitForDay => ({
  id,
  label: id,
  state: 'clean',
  isWet: true,
  isShared: true,
  isDownholePump: true,
  ...fields,
});

const input: DayPlanInput = {
  crew: 'crew-1',
  wells: [
    { well: 'a', name: 'MW-1', sharedDownhole: ['P-1'], units: ['P-1', 'T-1', 'C-1'] },
    {
      well: 'b',
      name: 'MW-2',
      sharedDownhole: ['P-1'],
      units: ['P-1', 'T-1', 'C-1'],
      needsFirst: ['the key of the gate'],
    },
    { well: 'c', name: 'MW-3', sharedDownhole: [], units: ['D-3', 'T-1'] },
  ],
  units: [
    unit('P-1', { state: 'used' }),
    unit('T-1', { isDownholePump: false }),
    unit('C-1', { isWet: false, isDownholePump: false, state: 'unknown' }),
    unit('D-3', { isShared: false }),
  ],
  rankOf: rankOf([level('a', [pce('500')]), level('b', [pce('1')])]),
  rinsatePer: 'unit-and-day',
};

const told = (steps: readonly DayStep[]) =>
  steps.map((one) => (one.step === 'well' ? one.well : `${one.step} ${one.unit}`));

describe('the plan of a day', () => {
  it('goes from clean to dirty, with decons before, between and after, and a rinsate after the dirtiest', () => {
    const plan = dayPlan(input);
    expect(plan.order).toEqual(['b', 'a', 'c']);
    expect(told(plan.steps)).toEqual([
      'decon P-1',
      'b',
      'decon P-1',
      'decon T-1',
      'a',
      'decon P-1',
      'rinsate P-1',
      'decon T-1',
      'c',
      'decon T-1',
    ]);
    expect(plan.deviations).toEqual([]);
    expect(plan.problems).toEqual([]);
    expect(plan.steps[1]).toEqual({
      step: 'well',
      well: 'b',
      units: ['P-1', 'T-1', 'C-1'],
      needsFirst: ['the key of the gate'],
    });
    expect(plan.steps.filter(({ step }) => step !== 'well')).toMatchObject([
      { why: 'P-1 is not clean by its records: before its first well.' },
      { why: 'After MW-2, before MW-1.' },
      {},
      { why: 'After MW-1, before it is put away.' },
      { why: 'One a day through P-1: after MW-1, its dirtiest well of the day.' },
      { why: 'After MW-1, before MW-3.' },
      { why: 'After MW-3, before it is put away.' },
    ]);
  });

  it('keeps an order that stands, and lists where it deviates', () => {
    const plan = dayPlan({ ...input, keepsOrder: true });
    expect(plan.order).toEqual(['a', 'b', 'c']);
    expect(plan.deviations).toMatchObject([{ well: 'b', after: 'a', shared: ['P-1'] }]);
    expect(plan.deviations[0]?.sentence).toContain('MW-2 comes after MW-1 with the same P-1: 500 times as much');
    expect(dayPlan({ ...input, keepsOrder: true, dirtierFactor: '1000' }).deviations).toEqual([]);
    expect(told(plan.steps).indexOf('rinsate P-1')).toBeLessThan(told(plan.steps).indexOf('b'));
  });

  it('asks for no rinsate where the plan asks for none, and says what speaks against it', () => {
    const units = [unit('P-1', { state: 'out-of-service' }), unit('T-1', { state: 'in-a-well' }), unit('D-3')];
    const plan = dayPlan({ ...input, rinsatePer: undefined, units });
    expect(told(plan.steps)).not.toContain('rinsate P-1');
    expect(plan.problems).toEqual([
      'P-1 is out of service: take another.',
      'T-1 is in a well now: it must come out and be cleaned first.',
      'C-1 is needed and is not among the units of the crew: take it along, or another.',
    ]);
  });

  it('of no wells is empty', () => {
    expect(dayPlan({ ...input, wells: [] })).toEqual({
      crew: 'crew-1',
      order: [],
      steps: [],
      deviations: [],
      problems: [],
    });
  });
});
