import fc from 'fast-check';
import { Matrix, solve } from 'ml-matrix';
import { linearRegression } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { crossingTime, type MovingLine, movingLine } from '../../../src/science/forecast/crossing-time.ts';
import { normalDraw } from '../../../src/science/forecast/draws.ts';
import { latestStraightLine } from '../../../src/science/forecast/latest-straight-line.ts';
import { fitLine, type LineFit, valueOnLine } from '../../../src/science/forecast/line-fit.ts';
import { seededUniform } from '../../../src/science/forecast/seeded-uniform.ts';
import { checkedStudentQuantile } from '../../../src/science/forecast/student-quantile.ts';
import type { TimedValue } from '../../../src/science/history/theil-sen.ts';
import { isRefusal } from '../../../src/science/refusal.ts';

function line(points: readonly TimedValue[], lastDigit = 0.01): LineFit {
  const fit = fitLine(points, lastDigit, 0.95);
  if (isRefusal(fit)) throw new Error(fit.refused);
  return fit;
}

function moving(points: readonly TimedValue[], lastDigit = 0.01): MovingLine {
  const found = movingLine(line(points, lastDigit));
  if (isRefusal(found)) throw new Error(found.refused);
  return found;
}

function every5Min(values: readonly number[]): TimedValue[] {
  return values.map((value, at) => ({ time: 5 * at, value }));
}

const rows = fc
  .uniqueArray(fc.integer({ min: 0, max: 200 }), { minLength: 3, maxLength: 12 })
  .chain((times) =>
    fc.tuple(
      ...times.map((time) => fc.integer({ min: 1000, max: 3000 }).map((value) => ({ time, value: value / 100 }))),
    ),
  );

describe('a line by least squares', () => {
  it('goes through the worked case: 0.05 ft a minute', () => {
    const fit = line(every5Min([17.5, 17.75, 18]));
    expect(fit.slope).toBeCloseTo(0.05, 12);
    expect(valueOnLine(fit, 10)).toBeCloseTo(18, 12);
    expect(fit.degreesOfFreedom).toBe(1);
  });

  // a tape that is read to 0.01 ft has a variance of 0.01^2 / 12 about any line, however well the figures line up
  it('is never exact: rounding alone scatters', () => {
    expect(line(every5Min([17.5, 17.75, 18])).variance).toBeCloseTo(0.01 ** 2 / 12, 12);
    expect(line(every5Min([17.5, 17.75, 18]), 0.1).variance).toBeCloseTo(0.1 ** 2 / 12, 12);
  });

  it('agrees with a general-purpose library, in any order of the values', () => {
    fc.assert(
      fc.property(rows, (points) => {
        const { m, b } = linearRegression(points.map(({ time, value }) => [time, value]));
        const fit = line(points);
        expect(fit.slope).toBeCloseTo(m, 8);
        expect(valueOnLine(fit, 0)).toBeCloseTo(b, 6);
        const turned = line(points.toReversed());
        expect(turned.slope).toBeCloseTo(fit.slope, 9);
        expect(turned.variance).toBeCloseTo(fit.variance, 9);
        const squares = points.reduce((sum, { time, value }) => sum + (value - m * time - b) ** 2, 0);
        expect(fit.variance).toBeCloseTo(Math.max(squares / (points.length - 2), 0.01 ** 2 / 12), 8);
      }),
    );
  });

  it('refuses too few values, two of one time, and a confidence that is none', () => {
    expect(fitLine(every5Min([1, 2]), 0.01, 0.95)).toHaveProperty('refused');
    const twice = [...every5Min([1, 2, 3]), { time: 5, value: 4 }];
    expect(fitLine(twice, 0.01, 0.95)).toMatchObject({ refused: expect.stringContaining('of the time 5') });
    expect(fitLine(every5Min([1, 2, 3]), 0.01, 2)).toMatchObject({ refused: expect.stringContaining('confidence') });
  });
});

describe('when a line crosses a value', () => {
  it('is 20 minutes on for 1 ft at 0.05 ft a minute', () => {
    const { time, earliest, latest } = crossingTime(moving(every5Min([17.5, 17.75, 18])), 19);
    expect(time).toBeCloseTo(30, 9);
    expect(earliest).toBeLessThan(30);
    expect(latest).toBeGreaterThan(30);
  });

  it('has an interval at whose ends the value is just at odds with the line: Fieller by its definition', () => {
    fc.assert(
      fc.property(rows, fc.integer({ min: 500, max: 4000 }), (points, hundredths) => {
        const found = movingLine(line(points));
        fc.pre(!isRefusal(found));
        const [fit, value] = [found as MovingLine, hundredths / 100];
        const { earliest, latest } = crossingTime(fit, value);
        for (const end of [earliest, latest]) {
          const error = Math.sqrt(fit.variance * (1 / points.length + (end - fit.meanTime) ** 2 / fit.spreadOfTimes));
          const off = Math.abs(valueOnLine(fit, end) - value) / error;
          expect(off / fit.t).toBeCloseTo(1, 4);
        }
      }),
    );
  });

  it('does not depend on the unit of the level, nor on where time begins', () => {
    fc.assert(
      fc.property(rows, (points) => {
        const found = movingLine(line(points));
        fc.pre(!isRefusal(found));
        const here = crossingTime(found as MovingLine, 40);
        const metres = points.map(({ time, value }) => ({ time: time + 1000, value: value * 0.3048 }));
        const there = crossingTime(moving(metres, 0.01 * 0.3048), 40 * 0.3048);
        const scale = Math.max(1, Math.abs(here.earliest), Math.abs(here.latest));
        expect(Math.abs(there.time - 1000 - here.time) / scale).toBeLessThan(1e-6);
        expect(Math.abs(there.earliest - 1000 - here.earliest) / scale).toBeLessThan(1e-4);
        expect(Math.abs(there.latest - 1000 - here.latest) / scale).toBeLessThan(1e-4);
      }),
    );
  });

  it('is not told of a level that may as well stand still', () => {
    expect(movingLine(line(every5Min([18, 18.01, 18, 18.01])))).toMatchObject({
      refused: expect.stringContaining('may as well be zero'),
    });
    expect(moving(every5Min([18, 17.9, 17.8])).moves).toBe('down');
    expect(moving(every5Min([17.8, 17.9, 18])).moves).toBe('up');
  });

  // 4,000 series: 3 to 10 levels, 0.02 to 0.08 ft/min, tape scatter of 0.005 to 0.02 ft read to 0.01 ft
  it('holds the true time in 95 of 100 series, measured', () => {
    const uniform = seededUniform(11);
    let [told, within] = [0, 0];
    for (let series = 0; series < 4000; series += 1) {
      const [slope, scatter] = [0.02 + 0.06 * uniform(), 0.005 + 0.015 * uniform()];
      const count = 3 + Math.floor(8 * uniform());
      const points = Array.from({ length: count }, (_, at) => {
        const value = Math.round((18 + slope * 5 * at + scatter * normalDraw(uniform)) * 100) / 100;
        return { time: 5 * at, value };
      });
      const found = latestStraightLine(points, 0.01, 0.95);
      if (isRefusal(found)) throw new Error(found.refused);
      const fit = movingLine(found.line);
      if (isRefusal(fit)) continue;
      told += 1;
      const { earliest, latest } = crossingTime(fit, 21);
      const truth = 3 / slope;
      if (truth >= earliest && truth <= latest) within += 1;
    }
    expect(told).toBeGreaterThan(3500);
    expect(within / told).toBeGreaterThan(0.93);
    expect(within / told).toBeLessThan(0.97);
  });
});

describe('the latest straight part', () => {
  it('leaves out the fast beginning of a fall that slows', () => {
    const values = [18, 18.3, 18.5, 18.65, 18.77, 18.88, 18.98, 19.08, 19.17];
    const found = latestStraightLine(every5Min(values), 0.01, 0.95);
    expect(found).toMatchObject({ values: 5 });
    expect((found as { line: LineFit }).line.slope).toBeCloseTo(0.02, 9);
  });

  it('keeps every value of a straight fall, and three at least', () => {
    expect(latestStraightLine(every5Min([18, 18.1, 18.2, 18.3]), 0.01, 0.95)).toMatchObject({ values: 4 });
    expect(latestStraightLine(every5Min([18, 19, 19.01]), 0.01, 0.95)).toMatchObject({ values: 3 });
    expect(latestStraightLine(every5Min([10, 18, 21, 22]), 0.01, 0.95)).toMatchObject({ values: 4 });
    expect(latestStraightLine(every5Min([18]), 0.01, 0.95)).toHaveProperty('refused');
  });

  it('judges a bend as the extra sum of squares of a parabola does, fitted by another way', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 4, maxLength: 9 }), (hundredths) => {
        const points = every5Min(hundredths.map((one) => one / 100));
        const found = latestStraightLine(points, 0.01, 0.95);
        const bent = isBentByDecomposition(points);
        expect('values' in found && found.values < points.length).toBe(bent);
      }),
    );
  });
});

/** Least squares with a squared term, by the singular values of the matrix of the powers of the time. */
function isBentByDecomposition(points: readonly TimedValue[]): boolean {
  const values = Matrix.columnVector(points.map(({ value }) => value));
  const leftOver = (powers: number) => {
    const powersOfTime = new Matrix(
      points.map(({ time }) => Array.from({ length: powers }, (_, at) => (time / 10) ** at)),
    );
    return Matrix.sub(values, powersOfTime.mmul(solve(powersOfTime, values, true))).norm() ** 2;
  };
  const degreesOfFreedom = points.length - 3;
  const variance = Math.max(leftOver(3) / degreesOfFreedom, 0.01 ** 2 / 12);
  return leftOver(2) - leftOver(3) > checkedStudentQuantile(degreesOfFreedom, 0.95) ** 2 * variance;
}
