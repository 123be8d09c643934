import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compareFlow, cycleRate, moveSeconds } from '../../../src/science/pump/cycle.ts';
import { flowOfStrokesMlPerMin, strokeVolumeMl } from '../../../src/science/pump/stroke-volume.ts';
import { cyclesSpanned, meanFlowMlPerMin, wholeCycleCollection } from '../../../src/science/pump/whole-cycles.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

const first = { refillS: '10', dischargeS: '5' };
const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

function given<T>(result: T): Exclude<T, { refused: string }> {
  if (isRefusal(result)) throw new Error(result.refused);
  return result as Exclude<T, { refused: string }>;
}

describe('the cycle of a bladder pump', () => {
  // Common practice, no source: 10 s refill and 5 s discharge, so 15 s and 4 cycles a minute, 50 mL a stroke.
  it('of 10 and 5 s is 15 s, 4 a minute, and 50 mL a stroke at 200 mL/min', () => {
    expect(cycleRate(first)).toEqual({ cycleS: '15', perMin: 4 });
    expect(strokeVolumeMl(200, first)).toBe(50);
    expect(flowOfStrokesMlPerMin(50, first)).toBe(200);
  });

  it('gives more flow with more discharge of the same 15 s', () => {
    const less = { refillS: '11.5', dischargeS: '3.5' };
    const more = { refillS: '8.5', dischargeS: '6.5' };
    expect(given(compareFlow(less, more))).toBeLessThan(0);
    expect(given(compareFlow(more, less))).toBeGreaterThan(0);
    expect(compareFlow(less, less)).toBe(0);
    expect(moveSeconds(first, '1.5')).toEqual(more);
    expect(moveSeconds(first, '-1.5')).toEqual(less);
  });

  it('keeps its length however seconds are moved, and moving them back undoes it', () => {
    const tenths = fc.integer({ min: 1, max: 300 }).map((count) => (count / 10).toFixed(1));
    const moved = fc.integer({ min: -100, max: 100 }).map((count) => (count / 10).toFixed(1));
    fc.assert(
      fc.property(tenths, tenths, moved, (refillS, dischargeS, by) => {
        const cycle = { refillS, dischargeS };
        const after = moveSeconds(cycle, by);
        if (isRefusal(after)) return;
        expect(given(cycleRate(after)).cycleS).toBe(given(cycleRate(cycle)).cycleS);
        expect(moveSeconds(after, String(-Number(by)))).toEqual(cycle);
        expect(Math.sign(given(compareFlow(after, cycle)))).toBe(Math.sign(Number(by)));
      }),
    );
  });

  it.each([
    [cycleRate({ refillS: '0', dischargeS: '5' }), 'moves no water'],
    [cycleRate({ refillS: '10', dischargeS: '-5' }), 'moves no water'],
    [cycleRate({ refillS: 'ten', dischargeS: '5' }), 'no plain decimal'],
    [moveSeconds(first, '10'), 'moves no water'],
    [moveSeconds(first, 'some'), 'no plain decimal'],
    [moveSeconds({ refillS: '0', dischargeS: '5' }, '1'), 'moves no water'],
    [compareFlow(first, { refillS: '10', dischargeS: '6' }), 'differ in length'],
    [compareFlow(first, { refillS: '0', dischargeS: '6' }), 'moves no water'],
    [strokeVolumeMl(0, first), 'has no stroke'],
    [strokeVolumeMl(200, { refillS: '0', dischargeS: '5' }), 'moves no water'],
    [flowOfStrokesMlPerMin(-1, first), 'is none'],
    [flowOfStrokesMlPerMin(50, { refillS: '0', dischargeS: '5' }), 'moves no water'],
  ])('refuses what is no cycle', (result, reason) => {
    expect(why(result)).toContain(reason);
  });
});

describe('the mean flow over whole cycles', () => {
  // Computed: 30 s at 4 cycles a minute catch 2 strokes, at 2.5 a minute 1.25.
  it.each([
    [first, 2],
    [{ refillS: '18', dischargeS: '6' }, 1.25],
  ])('a collection of 30 s with %j spans %f cycles', (cycle, spanned) => {
    expect(cyclesSpanned(30, cycle)).toBe(spanned);
  });

  it('is wrong by up to a stroke where the collection is not whole', () => {
    const cycle = { refillS: '18', dischargeS: '6' };
    // 1 or 2 strokes of 80 mL in 30 s read as 160 or 320 mL/min, where 80 x 2.5 = 200 is true.
    expect(flowOfStrokesMlPerMin(80, cycle)).toBe(200);
    expect([80 / 0.5, 160 / 0.5]).toEqual([160, 320]);
    expect(meanFlowMlPerMin(160, 2, cycle)).toBe(200);
  });

  it('collects the fewest whole cycles that last long enough', () => {
    expect(wholeCycleCollection(30, { refillS: '18', dischargeS: '6' })).toEqual({ cycles: 2, collectionS: 48 });
    expect(wholeCycleCollection(30, first)).toEqual({ cycles: 2, collectionS: 30 });
    expect(wholeCycleCollection(0, first)).toEqual({ cycles: 1, collectionS: 15 });
  });

  it('does not depend on how many whole cycles are collected', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20 }), fc.double({ min: 1, max: 500, noNaN: true }), (cycles, strokeMl) => {
        const flow = given(meanFlowMlPerMin(strokeMl * cycles, cycles, first));
        expect(flow).toBeCloseTo(given(flowOfStrokesMlPerMin(strokeMl, first)), 8);
        expect(given(strokeVolumeMl(flow, first))).toBeCloseTo(strokeMl, 8);
      }),
    );
  });

  const none = { refillS: '0', dischargeS: '5' };
  it.each([
    [meanFlowMlPerMin(100, 1.25, first), 'not whole'],
    [meanFlowMlPerMin(100, 0, first), 'not whole'],
    [meanFlowMlPerMin(-1, 1, first), 'is none'],
    [meanFlowMlPerMin(100, 1, none), 'moves no water'],
    [cyclesSpanned(0, first), 'catches nothing'],
    [cyclesSpanned(30, none), 'moves no water'],
    [wholeCycleCollection(-1, first), 'no length'],
    [wholeCycleCollection(Number.POSITIVE_INFINITY, first), 'no length'],
    [wholeCycleCollection(30, none), 'moves no water'],
  ])('refuses what is no collection of whole cycles', (result, reason) => {
    expect(why(result)).toContain(reason);
  });
});
