import fc from 'fast-check';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { atPlace } from '../../../src/science/history/at-place.ts';
import { kendallScore } from '../../../src/science/history/kendall-score.ts';
import { slopeInterval } from '../../../src/science/history/slope-interval.ts';
import { pairSlopes, type TimedValue, theilSen } from '../../../src/science/history/theil-sen.ts';
import { yearsBetween } from '../../../src/science/history/years.ts';
import { given, refusal } from './given.ts';
import { SULFATE } from './published-rows.ts';

const asPrinted = SULFATE.map(({ printed, ppm }) => ({ time: printed, value: ppm }));
const byDate = SULFATE.map(({ date, ppm }) => ({ time: yearsBetween('1989-01-01T00:00:00Z', date), value: ppm }));
const dragged = [1, 2, 3, 4, 5, 16, 7].map((value, at) => ({ time: at + 1, value }));

describe('the Theil-Sen line', () => {
  it('US EPA, Unified Guidance 2009, Example 17-6 as printed: slope 26.66667, intercept -1909.333, 95 % 20.000 to 35.712', () => {
    const line = given(theilSen(asPrinted, 0.95));
    expect(line.slopes).toBe(253);
    expect(line.slope).toBeCloseTo(26.66667, 5);
    expect(line.intercept).toBeCloseTo(-1909.333, 3);
    expect(given(line.interval).lower).toBeCloseTo(20, 3);
    expect(given(line.interval).upper).toBeCloseTo(35.712, 3);
  });

  it('TRAP: "89.6" is June 1989 and no 0.6 of a year: true dates give 26.490 ppm a year, and the same S', () => {
    const line = given(theilSen(byDate, 0.95));
    expect(line.slope).toBeCloseTo(26.49, 3);
    expect(line.slope).not.toBeCloseTo(26.66667, 1);
    expect(line.slopes).toBe(253);
    expect(kendallScore(byDate.map((one) => one.value))).toEqual(kendallScore(asPrinted.map((one) => one.value)));
    expect(given(kendallScore(byDate.map((one) => one.value)))).toMatchObject({ s: 194, variance: 1428 });
  });

  it('Helsel & Hirsch, section 10.1 (from memory): 21 slopes, median 1, intercept 0, where least squares is dragged', () => {
    expect(theilSen(dragged, 0.95)).toMatchObject({ slope: 1, intercept: 0, slopes: 21 });
    const squares = linearRegression(dragged.map(({ time, value }) => [time, value]));
    expect(squares.m).toBeGreaterThan(1.5);
  });

  it('is the least-squares line where the points are on one', () => {
    const line = [0, 1, 4, 6, 7, 11].map((time) => ({ time, value: 3 - 0.25 * time }));
    const squares = linearRegression(line.map(({ time, value }) => [time, value]));
    const robust = given(theilSen(line, 0.8));
    expect(robust.slope).toBeCloseTo(squares.m, 12);
    expect(robust.intercept).toBeCloseTo(squares.b, 12);
  });

  it('refuses two values of one time, what is no number, and one value', () => {
    expect(refusal(theilSen([...dragged, { time: 3, value: 9 }], 0.95))).toContain('time 3');
    expect(refusal(theilSen([{ time: Number.NaN, value: 1 }, ...dragged], 0.95))).toContain('no number');
    expect(refusal(theilSen([{ time: 9, value: Number.NaN }, ...dragged], 0.95))).toContain('no number');
    expect(refusal(theilSen(dragged.slice(0, 1), 0.95))).toContain('too few');
  });

  it('gives no interval where there are too few slopes, or for a confidence that is none', () => {
    expect(refusal(given(theilSen(dragged.slice(0, 4), 0.95)).interval)).toContain('6 slopes are too few');
    for (const confidence of [0, 1, 95, Number.NaN])
      expect(refusal(given(theilSen(dragged, confidence)).interval)).toContain('not between 0 and 1');
    expect(slopeInterval([1, 2, 3, 4], 0, 0.5)).toEqual({ lower: 2, upper: 3 });
  });
});

describe('the value at a place of a row', () => {
  it('counts from 1, goes between two values, and has none outside', () => {
    expect([1, 1.25, 3].map((place) => atPlace([10, 20, 30], place))).toEqual([10, 12.5, 30]);
    expect([0, 3.5].map((place) => atPlace([10, 20, 30], place))).toEqual([Number.NaN, Number.NaN]);
  });
});

describe('properties of the Theil-Sen line', () => {
  const points = fc
    .uniqueArray(fc.tuple(fc.integer({ min: 0, max: 60 }), fc.integer({ min: -99, max: 99 })), {
      minLength: 2,
      maxLength: 14,
      selector: ([time]) => time,
    })
    .map((all): TimedValue[] => all.map(([time, value]) => ({ time, value })));

  it('does not see the order in which the points are given', () => {
    fc.assert(
      fc.property(points, (all) => {
        expect(theilSen(all.toReversed(), 0.9)).toEqual(theilSen(all, 0.9));
      }),
    );
  });

  it('follows a shift and a change of unit, and turns with the sign', () => {
    fc.assert(
      fc.property(points, fc.integer({ min: -50, max: 50 }), (all, shift) => {
        const { slope, intercept } = given(theilSen(all, 0.9));
        const change = (by: (point: TimedValue) => TimedValue) => given(theilSen(all.map(by), 0.9));
        expect(change(({ time, value }) => ({ time, value: value + shift })).slope).toBeCloseTo(slope, 9);
        expect(change(({ time, value }) => ({ time: time + shift, value })).slope).toBeCloseTo(slope, 9);
        expect(change(({ time, value }) => ({ time, value: 12 * value })).slope).toBeCloseTo(12 * slope, 9);
        expect(change(({ time, value }) => ({ time: 12 * time, value })).slope).toBeCloseTo(slope / 12, 9);
        const mirrored = change(({ time, value }) => ({ time, value: -value }));
        expect(mirrored.slope).toBeCloseTo(-slope, 9);
        expect(mirrored.intercept).toBeCloseTo(-intercept, 7);
      }),
    );
  });

  it('has as many rising as falling pairs once its slope is taken off', () => {
    fc.assert(
      fc.property(points, (all) => {
        const { slope } = given(theilSen(all, 0.9));
        const slopes = pairSlopes(all);
        const above = slopes.filter((one) => one > slope + 1e-9).length;
        const below = slopes.filter((one) => one < slope - 1e-9).length;
        expect(Math.max(above, below)).toBeLessThanOrEqual(slopes.length / 2);
      }),
    );
  });
});

describe('years between two instants', () => {
  it('counts 365.25 days, in whatever offset the instants are written', () => {
    expect(yearsBetween('2020-01-01T00:00:00Z', '2024-01-01T00:00:00Z')).toBe(4);
    expect(yearsBetween('2020-01-01T00:00:00-05:00', '2020-01-01T05:00:00Z')).toBe(0);
  });
});
