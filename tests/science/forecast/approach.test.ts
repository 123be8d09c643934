import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import {
  type ApproachPosterior,
  approachPosterior,
  drawCourse,
} from '../../../src/science/forecast/approach-posterior.ts';
import { approachShape, timeConstants } from '../../../src/science/forecast/approach-shapes.ts';
import { drawnReadings, shown } from '../../../src/science/forecast/drawn-readings.ts';
import { normalDraw } from '../../../src/science/forecast/draws.ts';
import { firstSteps, passingSteps } from '../../../src/science/forecast/first-step.ts';
import { seededUniform, type Uniform } from '../../../src/science/forecast/seeded-uniform.ts';
import type { TimedValue } from '../../../src/science/history/theil-sen.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

function posterior(points: readonly TimedValue[], lastDigit = 0.01): ApproachPosterior {
  const found = approachPosterior(points, lastDigit);
  if (isRefusal(found)) throw new Error(found.refused);
  return found;
}

function every5Min(values: readonly number[]): TimedValue[] {
  return values.map((value, at) => ({ time: 5 * at, value }));
}

function likeliest({ shapes }: ApproachPosterior): number {
  return shapes.reduce((a, b) => (b.weight > a.weight ? b : a)).timeConstant;
}

describe('the shapes that are tried', () => {
  it('are 0 at the first time and 1 at the last', () => {
    fc.assert(
      fc.property(fc.integer({ min: -60, max: 60 }), fc.integer({ min: 1, max: 90 }), (first, span) => {
        for (const constant of timeConstants(span, span / 4)) {
          const shape = approachShape(first, first + span, constant);
          expect(shape(first)).toBeCloseTo(0, 12);
          expect(shape(first + span)).toBeCloseTo(1, 12);
          expect(shape(first + span + 1)).toBeGreaterThan(1);
        }
      }),
    );
  });

  it('approach a plateau, go straight on, or run away', () => {
    const step = (constant: number) => {
      const shape = approachShape(0, 20, constant);
      return shape(40) - shape(20);
    };
    expect(step(5)).toBeCloseTo((Math.exp(-4) - Math.exp(-8)) / (1 - Math.exp(-4)), 12);
    expect(step(Number.POSITIVE_INFINITY)).toBe(1);
    expect(step(-10)).toBeCloseTo((Math.exp(4) - Math.exp(2)) / (Math.exp(2) - 1), 9);
  });
});

describe('what readings say of how their value goes on', () => {
  it('finds the time constant of a clean approach, a clean line and a clean run-away', () => {
    const curve = (constant: number, sign = 1) =>
      every5Min(Array.from({ length: 9 }, (_, at) => 100 + sign * 50 * Math.exp((-5 * at) / constant)));
    const near = likeliest(posterior(curve(12), 0.001));
    expect(near).toBeGreaterThan(8);
    expect(near).toBeLessThan(18);
    expect(likeliest(posterior(every5Min([1, 2, 3, 4, 5, 6, 7]), 0.001))).toBe(Number.POSITIVE_INFINITY);
    expect(likeliest(posterior(curve(-30), 0.001))).toBeLessThan(0);
  });

  it('fits each shape as a general-purpose matrix library does', () => {
    const points = every5Min([7.82, 7.49, 7.3, 7.18, 7.11, 7.06]);
    for (const one of posterior(points, 0.0001).shapes) {
      const design = new Matrix(points.map(({ time }) => [1, one.shape(time)]));
      const values = Matrix.columnVector(points.map(({ value }) => value));
      const solved = solve(design, values, true);
      expect(one.change).toBeCloseTo(solved.get(1, 0), 8);
      expect(one.meanValue - one.change * one.meanShape).toBeCloseTo(solved.get(0, 0), 8);
      expect(one.squares).toBeCloseTo(Matrix.sub(values, design.mmul(solved)).norm() ** 2, 8);
    }
  });

  // the integral over level, change and scatter is done by brute force for two shapes; their ratio must be the same
  it('weights shapes as a numerical integral does', () => {
    const points = every5Min([5.0, 4.1, 3.9, 3.2, 3.3]);
    const { shapes } = posterior(points, 0.001);
    const integral = (shape: (time: number) => number) => {
      let sum = 0;
      for (let level = 2; level <= 7.5; level += 0.05)
        for (let change = -5; change <= 1.5; change += 0.05) {
          const squares = points.reduce((all, { time, value }) => all + (value - level - change * shape(time)) ** 2, 0);
          for (let log = -4; log <= 2; log += 0.1) sum += Math.exp(-5 * log - squares / (2 * Math.exp(2 * log)));
        }
      return sum;
    };
    const [a, b] = [shapes[8], shapes[20]];
    if (a === undefined || b === undefined) throw new Error('too few shapes');
    expect(integral(a.shape) / integral(b.shape) / (a.weight / b.weight)).toBeCloseTo(1, 1);
  });

  it('does not depend on the order of the readings, the unit of the value or where time begins', () => {
    const anyReadings = fc.array(fc.integer({ min: 100, max: 900 }), { minLength: 4, maxLength: 10 });
    fc.assert(
      fc.property(anyReadings, (values) => {
        const points = every5Min(values);
        const moved = points.toReversed().map(({ time, value }) => ({ time: 300 + time * 60, value: value * 1000 }));
        const [here, there] = [posterior(points, 1), posterior(moved, 1000)];
        here.shapes.forEach(({ weight, change }, at) => {
          expect(there.shapes[at]?.weight).toBeCloseTo(weight, 6);
          expect((there.shapes[at]?.change ?? 0) / 1000 - change).toBeCloseTo(0, 6);
        });
      }),
    );
  });

  it('takes rounding for scatter where the readings seem exact', () => {
    const exact = posterior(every5Min([7, 7, 7, 7, 7]), 0.1);
    for (const { squares } of exact.shapes) expect(squares).toBeCloseTo((3 * 0.1 ** 2) / 12, 12);
  });

  it('refuses three readings and two of one time', () => {
    expect(approachPosterior(every5Min([9.29, 9.21, 9.08]), 0.01)).toHaveProperty('refused');
    const twice = [...every5Min([1, 2, 3, 4]), { time: 5, value: 2 }];
    expect(approachPosterior(twice, 0.01)).toMatchObject({ refused: expect.stringContaining('of the time 5') });
  });

  it('takes the likeliest shape where rounding leaves the weights short of one', () => {
    const { shapes, count } = posterior(every5Min([1, 2, 3, 4, 5]), 0.001);
    const draws = [2, ...Array.from({ length: 40 }, () => 0.5)];
    const course = drawCourse({ shapes, count }, () => draws.shift() ?? 0.5);
    expect(course.at(30) - course.at(25)).toBeCloseTo(course.at(25) - course.at(20), 6);
  });
});

interface Truth {
  readonly scatter: number;
  readonly at: (time: number) => number;
}

const DISPLAY = { lastDigit: 0.01, least: 0, most: 1e6 };
const WINDOW = 3;
const STEPS = 12;

/** Three readings within 0.1 of each other, as for pH. */
function passes(window: readonly number[]): boolean {
  return Math.max(...window) - Math.min(...window) <= 0.1 + 1e-9;
}

function firstTrue(steps: readonly boolean[]): number | null {
  return steps.includes(true) ? steps.indexOf(true) : null;
}

/** One series: readings that are seen, a forecast from them, and what then comes. Null where it is met already. */
function tryOne(truth: Truth, count: number, uniform: Uniform) {
  const read = (time: number) => shown(truth.at(time) + truth.scatter * normalDraw(uniform), DISPLAY);
  const all = Array.from({ length: count + STEPS }, (_, at) => read(5 * at));
  const seen = all.slice(0, count);
  const before = seen.slice(1 - WINDOW);
  if (passes(seen.slice(-WINDOW))) return null;
  const came = firstTrue(passingSteps(before, all.slice(count), WINDOW, passes));
  const from = posterior(every5Min(seen));
  const times = Array.from({ length: STEPS }, (_, at) => 5 * (count + at));
  const draws = Array.from({ length: 200 }, () => {
    const coming = drawnReadings(drawCourse(from, uniform), times, DISPLAY, uniform);
    return firstTrue(passingSteps(before, coming, WINDOW, passes));
  });
  const { by } = firstSteps(draws);
  return { came, earliest: by(0.1), latest: by(0.9) };
}

/** How often what came lay within the band of eight in ten, of so many series that were not met already. */
function coverage(series: number, truthOf: (uniform: Uniform) => Truth, seed: number): number {
  const uniform = seededUniform(seed);
  let [told, within] = [0, 0];
  while (told < series) {
    const tried = tryOne(truthOf(uniform), 4 + Math.floor(5 * uniform()), uniform);
    if (tried === null) continue;
    told += 1;
    const came = tried.came ?? STEPS;
    if (came >= (tried.earliest ?? STEPS) && came <= (tried.latest ?? STEPS)) within += 1;
  }
  return within / told;
}

describe('the band of eight in ten, measured on synthetic series of 4 to 8 readings every 5 minutes', () => {
  // 1,500 series; pH falls by 0.3 to 1.0 with a time constant of 5 to 40 min and scatters by 0.005 to 0.03
  it('holds what comes at least eight times in ten on approaches to a plateau', () => {
    const approach = (uniform: Uniform): Truth => {
      const [fall, constant] = [0.3 + 0.7 * uniform(), 5 + 35 * uniform()];
      return { scatter: 0.005 + 0.025 * uniform(), at: (time) => 7 + fall * Math.exp(-time / constant) };
    };
    const held = coverage(1500, approach, 21);
    expect(held).toBeGreaterThan(0.85);
    expect(held).toBeLessThan(0.99);
  });

  // 1,000 series like these, in which one reading in ten is off by up to 0.2, as by a bubble
  it('holds as often where now and then a reading is far off', () => {
    const spiked = (uniform: Uniform): Truth => {
      const [fall, constant] = [0.3 + 0.7 * uniform(), 5 + 35 * uniform()];
      const off = () => (uniform() < 0.1 ? 0.4 * (uniform() - 0.5) : 0);
      return { scatter: 0.005 + 0.025 * uniform(), at: (time) => 7 + fall * Math.exp(-time / constant) + off() };
    };
    expect(coverage(1000, spiked, 24)).toBeGreaterThan(0.85);
  });

  // 1,000 series; a drift of 0.03 to 0.09 a reading, scatter as above: the band is the same
  it('holds as often on steady drifts', () => {
    const drift = (uniform: Uniform): Truth => {
      const slope = (0.03 + 0.06 * uniform()) / 5;
      return { scatter: 0.005 + 0.025 * uniform(), at: (time) => 7 + slope * time };
    };
    expect(coverage(1000, drift, 22)).toBeGreaterThan(0.8);
  });

  // 500 series that run away: the change grows e-fold in 15 to 40 min
  it('holds where the value runs away as well: nothing is promised that does not come', () => {
    const runaway = (uniform: Uniform): Truth => {
      const [size, constant] = [0.1 + 0.2 * uniform(), 15 + 25 * uniform()];
      return { scatter: 0.01, at: (time) => 7 + size * Math.exp(time / constant) };
    };
    expect(coverage(500, runaway, 23)).toBeGreaterThan(0.9);
  });
});
