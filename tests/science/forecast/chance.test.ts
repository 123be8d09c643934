import jstat from 'jstat';
import { mean, variance } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { drawnReadings, drawnStandingStill, shown } from '../../../src/science/forecast/drawn-readings.ts';
import { chiSquareDraw, normalDraw } from '../../../src/science/forecast/draws.ts';
import { firstSteps, passingSteps } from '../../../src/science/forecast/first-step.ts';
import { seededUniform } from '../../../src/science/forecast/seeded-uniform.ts';

function many(count: number, draw: () => number): number[] {
  return Array.from({ length: count }, draw);
}

/** Largest distance between the shares drawn and those of a distribution: Kolmogorov and Smirnov's. */
function distance(values: readonly number[], cdf: (x: number) => number): number {
  const sorted = values.toSorted((a, b) => a - b);
  return Math.max(...sorted.map((x, at) => Math.abs(cdf(x) - (at + 0.5) / sorted.length)));
}

describe('chance as an argument', () => {
  // ISO/IEC 14882, minstd_rand: the 10000th number of a generator that begins with 1
  it('gives 399268537 as its 10,000th number from seed 1, as the C++ standard says', () => {
    const uniform = seededUniform(1);
    const last = many(10_000, uniform).at(-1) ?? 0;
    expect(Math.round(last * 2_147_483_647)).toBe(399_268_537);
  });

  it('gives the same numbers for the same seed, others for another, and takes any whole number', () => {
    const first = (seed: number) => many(5, seededUniform(seed));
    expect(first(7)).toEqual(first(7));
    expect(first(7)).not.toEqual(first(8));
    for (const seed of [0, -3, 2_147_483_646, 2_147_483_647, 9e15]) {
      for (const one of first(seed)) {
        expect(one).toBeGreaterThan(0);
        expect(one).toBeLessThan(1);
      }
    }
  });

  it('draws from the normal and the chi-square distribution, by a general-purpose library', () => {
    const uniform = seededUniform(3);
    const { normal, chisquare } = jstat.jStat;
    // 1.63 / sqrt(n) is exceeded once in a hundred times
    const limit = 1.63 / Math.sqrt(4000);
    expect(
      distance(
        many(4000, () => normalDraw(uniform)),
        (x) => normal.cdf(x, 0, 1),
      ),
    ).toBeLessThan(limit);
    for (const df of [1, 2, 5])
      expect(
        distance(
          many(4000, () => chiSquareDraw(uniform, df)),
          (x) => chisquare.cdf(x, df),
        ),
      ).toBeLessThan(limit);
  });
});

describe('readings to come', () => {
  const display = { lastDigit: 0.1, least: 0, most: 1000 };

  it('are shown as a meter does: to its last digit, not below its least nor above its most', () => {
    expect(shown(7.26, display)).toBeCloseTo(7.3, 12);
    expect(shown(-0.3, display)).toBe(0);
    expect(shown(Number.POSITIVE_INFINITY, display)).toBe(1000);
  });

  it('scatter about their course, and stand still where one asks what scatter alone does', () => {
    const course = { at: (time: number) => 100 + time, noise: 2 };
    const uniform = seededUniform(5);
    const moving = many(2000, () => drawnReadings(course, [50], display, uniform)[0] ?? 0);
    expect(mean(moving)).toBeCloseTo(150, 0);
    expect(variance(moving)).toBeGreaterThan(3.6);
    expect(variance(moving)).toBeLessThan(4.4);
    const still = drawnStandingStill(course, 50, 2000, display, uniform);
    expect(still).toHaveLength(2000);
    expect(mean(still)).toBeCloseTo(150, 0);
    expect(drawnReadings({ at: () => 5, noise: 0 }, [1, 2], display, uniform)).toEqual([5, 5]);
  });
});

describe('when something first happens', () => {
  it('is told by parts of the draws', () => {
    const steps = firstSteps([1, 2, 2, null]);
    expect(steps.share).toBe(0.75);
    expect([0.1, 0.25, 0.26, 0.5, 0.75, 0.76, 0.9].map(steps.by)).toEqual([1, 1, 2, 2, 2, null, null]);
    expect(firstSteps([2, null, 1, 2]).by(0.5)).toBe(2);
    expect(firstSteps([null]).by(0.1)).toBeNull();
    expect(firstSteps([3]).by(0)).toBe(3);
  });

  it('judges each window that ends with a reading to come, once it is full', () => {
    const within2 = (window: readonly number[]) => Math.max(...window) - Math.min(...window) <= 2;
    expect(passingSteps([10, 8], [7, 6, 6], 3, within2)).toEqual([false, true, true]);
    expect(passingSteps([], [7, 6, 6], 3, within2)).toEqual([false, false, true]);
    expect(passingSteps([1], [], 3, within2)).toEqual([]);
  });
});
