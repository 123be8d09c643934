import { describe, expect, it } from 'vitest';
import type { ReadingRecord } from '../../../src/rules/assessment/assessment-input.ts';
import { durationText } from '../../../src/rules/assessment/shortfall-text.ts';
import { assess, at, idOf, later, reading, STEADY, setUp, statusOf, unit } from './purge-fixture.ts';

function steadyAt(...seconds: number[]): ReadingRecord[] {
  return seconds.map((second) => reading({ time: later(second) }, { ...STEADY, flowMlPerMin: '200' }));
}

function times(purge: Parameters<typeof assess>[0]): string[] {
  const byId = new Map(purge.readings.map(({ id, fields }) => [id, fields.observed.at.slice(11, 19)]));
  return assess(purge).window.map((id) => byId.get(id) ?? '');
}

describe('the window', () => {
  it('[A3] takes the latest readings an interval apart, with 30 s of grace: an extra reading spoils nothing', () => {
    const readings = steadyAt(0, 120, 290, 605);
    expect(times({ readings })).toEqual(['10:00:00', '10:04:50', '10:10:05']);
    expect(assess({ readings }).stable).toBe(true);
    expect(assess({ readings }).decisions).toContainEqual({
      option: 'graceS',
      choice: '30',
      from: 'default',
      why: 'An interval is shorter than asked for, within the grace.',
    });
  });

  it('[A3] is not spoiled by an extra reading of any value', () => {
    const [a, b, c, d] = steadyAt(0, 290, 420, 605) as [ReadingRecord, ReadingRecord, ReadingRecord, ReadingRecord];
    const odd = { ...c, fields: { ...c.fields, ph: '9.90' } };
    expect(assess({ readings: [a, b, odd, d] }).stable).toBe(true);
  });

  it('[A3] asks for the interval itself where the plan gives no grace', () => {
    expect(assess({ readings: steadyAt(0, 120, 290, 605), plan: { graceS: 0 } }).stable).toBe(false);
    expect(assess({ readings: steadyAt(0, 300, 600), plan: { graceS: 0 } }).stable).toBe(true);
  });

  it('[A3] falls short of the grace by one second: 4 min 30 s counts, 4 min 29 s does not', () => {
    expect(assess({ readings: steadyAt(0, 270, 540) }).stable).toBe(true);
    expect(assess({ readings: steadyAt(0, 270, 539) }).stable).toBe(false);
  });

  it('[A3] takes the interval of the plan before that of the set', () => {
    expect(assess({ readings: steadyAt(0, 180, 360) }).stable).toBe(false);
    expect(assess({ readings: steadyAt(0, 180, 360), plan: { minimumIntervalS: 180 } }).stable).toBe(true);
    expect(assess({ readings: steadyAt(0, 180, 360), criteria: 'puls-and-barcelona-1996' }).stable).toBe(true);
  });

  it('[A3] does not join readings over a gap that is too long, unless the interval is as long', () => {
    const readings = steadyAt(0, 300, 2_101);
    const result = assess({ readings });
    expect(result.stable).toBe(false);
    expect(result.missing).toEqual(['1 of 3 readings without a gap of more than 30 min between them.']);
    expect(result.decisions).toContainEqual(expect.objectContaining({ option: 'largestGapS', choice: '1800' }));
    expect(assess({ readings, plan: { largestGapS: 1_801 } }).stable).toBe(true);
    const slow = { ...setUpOf('500'), readings: steadyAt(0, 3_000, 6_000).map((one) => withFlow(one, '10')) };
    expect(assess(slow).stable).toBe(true);
  });

  it('[A3] does not judge one reading three times', () => {
    expect(assess({ readings: steadyAt(0) }).stable).toBe(false);
  });
});

function setUpOf(flowCellVolumeMl: string) {
  return { setUps: [setUp({ time: '09:50' }, { flowCellVolumeMl })] };
}

function withFlow(record: ReadingRecord, flowMlPerMin: string): ReadingRecord {
  return { ...record, fields: { ...record.fields, flowMlPerMin } };
}

describe('the turnover of the flow cell', () => {
  // max(5 min, V / Q): 500 mL at 50 mL/min is 10 min (US EPA Region 1, EQASOP-GW4, Rev. 4, from memory; computed).
  const every5 = steadyAt(0, 300, 600, 900, 1_200).map((one) => withFlow(one, '50'));

  it('[A18] makes 10 min the interval at 500 mL and 50 mL/min, and 5 min at 250 mL', () => {
    expect(times({ readings: every5, ...setUpOf('500') })).toEqual(['10:00:00', '10:10:00', '10:20:00']);
    expect(assess({ readings: every5, ...setUpOf('500') }).firstHeldAt).toBe(at('10:20'));
    expect(assess({ readings: every5, ...setUpOf('250') }).firstHeldAt).toBe(at('10:10'));
    const { interval } = assess({ readings: every5, ...setUpOf('500') }).conditions;
    expect(interval).toEqual({
      requiredS: 600,
      criteriaS: 300,
      graceS: 30,
      turnover: 'met',
      flowCellMl: '500',
      flowMlPerMin: '50',
      because:
        'Readings count 10 min apart. The water of the flow cell was replaced between the readings of the window.',
    });
  });

  it('[A18] says that it is not met yet while the window is not full', () => {
    const early = assess({ readings: every5.slice(0, 3), ...setUpOf('500') });
    expect(early.conditions.interval.turnover).toBe('not-met');
    expect(early.missing[0]).toBe('2 of 3 readings at least 10 min apart.');
  });

  it('[A18] never ends where no water moves', () => {
    const still = assess({ readings: every5.map((one) => withFlow(one, '0')), ...setUpOf('500') });
    expect(still.stable).toBe(false);
    expect(still.missing).toEqual(['No water moves at the flow that was recorded, so no reading counts.']);
    expect(still.conditions.interval).not.toHaveProperty('requiredS');
  });

  it('[A18] takes the volume of the cell that was set up, or of the meter that has one built in', () => {
    const meter = idOf('meter');
    const cell = idOf('cell');
    const units = [
      unit(meter, { flowCellVolumeMl: '400' }),
      unit(cell, { type: 'flow-cell', flowCellVolumeMl: '500' }),
    ];
    const readings = every5.map((one) => ({ ...one, fields: { ...one.fields, meter } }));
    const built = assess({ readings, units });
    expect(built.conditions.interval).toMatchObject({ flowCellMl: '400', requiredS: 480 });
    const setUps = [setUp({ time: '09:50' }, { flowCell: cell })];
    expect(assess({ readings, units, setUps }).conditions.interval).toMatchObject({ flowCellMl: '500' });
    expect(assess({ readings, units: [] }).conditions.interval.turnover).toBe('not-known');
    expect(assess({ readings, setUps, units: [] }).conditions.interval.turnover).toBe('not-known');
  });

  it('[A18] takes the set-up that stood at the latest reading, or the first one where all were typed later', () => {
    const first = setUp({ time: '09:50' }, { flowCellVolumeMl: '500' });
    const changed = setUp({ time: '10:02' }, { flowCellVolumeMl: '250' });
    const tomorrow = setUp({ time: '12:00' }, { flowCellVolumeMl: '900' });
    const cellOf = (setUps: ReturnType<typeof setUp>[]) =>
      assess({ readings: every5, setUps }).conditions.interval.flowCellMl;
    expect(cellOf([first, changed, tomorrow])).toBe('250');
    expect(cellOf([tomorrow])).toBe('900');
  });

  it('[A18] is no condition of the older sets, unless the plan says so', () => {
    const purge = { criteria: 'puls-and-barcelona-1996', readings: every5, ...setUpOf('500') };
    expect(assess(purge).conditions.interval).toMatchObject({ turnover: 'not-a-condition', requiredS: 180 });
    expect(assess({ ...purge, plan: { turnover: 'required' } }).conditions.interval.requiredS).toBe(600);
    expect(
      assess({ readings: every5, ...setUpOf('500'), plan: { turnover: 'not-required' } }).conditions.interval,
    ).toMatchObject({
      turnover: 'not-a-condition',
      requiredS: 300,
    });
  });
});

describe('a duration in a sentence', () => {
  it.each([
    [45_000, '45 s'],
    [300_000, '5 min'],
    [200_000, '3 min 20 s'],
    [214_286, '3 min 35 s'],
  ])('%s ms is %s', (ms, text) => {
    expect(durationText(ms)).toBe(text);
  });
});

describe('two meters side by side', () => {
  it('[A3] judges turbidity from its own meter in the same window as the rest', () => {
    const { turbidityNtu, ...rest } = STEADY;
    const multi = [0, 300, 600].map((s) => reading({ time: later(s) }, { ...rest, meter: idOf('multi') }));
    const turbidity = [20, 320, 620].map((s) =>
      reading({ time: later(s) }, { ...(turbidityNtu ? { turbidityNtu } : {}), meter: idOf('turbidity') }),
    );
    const result = assess({ readings: [...multi, ...turbidity] });
    expect(result.stable).toBe(true);
    expect(statusOf(result, 'turbidity')).toBe('stable');
    expect(result.firstHeldAt).toBe(later(620));
  });
});
