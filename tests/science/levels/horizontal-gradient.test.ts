import fc from 'fast-check';
import { Matrix, SingularValueDecomposition, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { distanceToHead, gradientBetween } from '../../../src/science/levels/head-on-line.ts';
import {
  fullCircle,
  type HorizontalGradient,
  horizontalGradient,
} from '../../../src/science/levels/horizontal-gradient.ts';
import { type HeadPoint, type Plane, planeFit } from '../../../src/science/levels/plane-fit.ts';
import { isRefusal, type Refusal } from '../../../src/science/refusal.ts';

const why = (result: unknown) => (isRefusal(result) ? result.refused : 'gave an answer');

function given<T extends object | number>(result: T | Refusal): T {
  if (isRefusal(result)) throw new Error(result.refused);
  return result;
}

const planeOf = (points: readonly HeadPoint[]) => given<Plane>(planeFit(points));
const flow = (points: readonly HeadPoint[], levelErrorFt = 0.01) =>
  given<HorizontalGradient>(horizontalGradient(planeOf(points), levelErrorFt));
const at = (eastFt: number, northFt: number, headFt: number): HeadPoint => ({ eastFt, northFt, headFt });

/** Wells on a grid of tenths of a foot that do not nearly stand in a line. */
const spreadWells = fc
  .array(
    fc.tuple(
      fc.integer({ min: -5_000, max: 5_000 }),
      fc.integer({ min: -5_000, max: 5_000 }),
      fc.integer({ min: 9_000, max: 11_000 }),
    ),
    { minLength: 3, maxLength: 15 },
  )
  .map((list) => list.map(([east, north, head]) => at(east / 10, north / 10, head / 100)))
  .filter((points) => {
    const plane = planeFit(points);
    return !isRefusal(plane) && plane.conditionNumber < 50;
  });

// A textbook exercise (four piezometers at the corners of a hectare), in metres: the gradient has no unit.
const HECTARE = [at(100, 100, 30), at(100, 0, 30), at(0, 0, 30.6), at(0, 100, 30.6)];

describe('four corners of a hectare', () => {
  it('slope by 0.006 due east', () => {
    const plane = planeOf(HECTARE);
    expect(plane.eastSlope).toBeCloseTo(-0.006, 12);
    expect(plane.northSlope).toBeCloseTo(0, 12);
    expect(plane.middle.headFt - plane.eastSlope * plane.middle.eastFt).toBeCloseTo(30.6, 9);
    expect(flow(HECTARE)).toMatchObject({
      magnitude: expect.closeTo(0.006, 12),
      flowAzimuthDeg: expect.closeTo(90, 9),
    });
  });

  it('fit without residuals, and stand even in all directions', () => {
    const plane = planeOf(HECTARE);
    for (const residual of plane.residualsFt) expect(residual).toBeCloseTo(0, 12);
    expect(plane).toMatchObject({
      standardResidualFt: expect.closeTo(0, 12),
      rSquared: expect.closeTo(1, 12),
      conditionNumber: expect.closeTo(1, 12),
      largestHeadDifferenceFt: expect.closeTo(0.6, 12),
    });
  });
});

describe('the direction of flow', () => {
  it.each([
    ['north', at(0, -1, 0), 0],
    ['east', at(-1, 0, 0), 90],
    ['south', at(0, 1, 0), 180],
    ['west', at(1, 0, 0), 270],
  ])('to the %s', (_name, { eastFt, northFt }, azimuth) => {
    const head = (east: number, north: number) => 100 + 0.01 * (eastFt * east + northFt * north);
    const corners = [at(0, 0, head(0, 0)), at(50, 0, head(50, 0)), at(0, 50, head(0, 50))];
    expect(flow(corners).flowAzimuthDeg).toBeCloseTo(azimuth, 6);
  });

  it('is minus the gradient: downhill, from the higher to the lower head', () => {
    fc.assert(
      fc.property(spreadWells, (points) => {
        const plane = planeOf(points);
        const { magnitude, flowAzimuthDeg } = flow(points);
        if (flowAzimuthDeg === null) return;
        const angle = (flowAzimuthDeg * Math.PI) / 180;
        const fall = plane.eastSlope * Math.sin(angle) + plane.northSlope * Math.cos(angle);
        expect(fall).toBeCloseTo(-magnitude, 9);
        expect(flowAzimuthDeg).toBeGreaterThanOrEqual(0);
        expect(flowAzimuthDeg).toBeLessThan(360);
      }),
    );
  });

  it('of a tiny turn below north stays below 360', () => {
    expect(fullCircle(-1e-20)).toBe(0);
    expect(fullCircle(-90)).toBe(270);
    expect(fullCircle(360)).toBe(0);
    expect(fullCircle(725)).toBe(5);
  });

  it('is none where the plane is level', () => {
    const level = [at(0, 0, 30.1), at(100, 0, 30.1), at(0, 100, 30.1)];
    expect(planeOf(level).rSquared).toBeNull();
    expect(flow(level)).toMatchObject({ flowAzimuthDeg: null, azimuthErrorDeg: null });
    expect(flow(level).magnitudeError).toBeGreaterThan(0);
    const saddle = [at(0, 0, 1.1), at(100, 0, 1), at(100, 100, 1.1), at(0, 100, 1)];
    expect(flow(saddle).flowAzimuthDeg).toBeNull();
    expect(planeOf(saddle).rSquared).toBeCloseTo(0, 9);
  });
});

describe('examples by hand', () => {
  // Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., ex. 3.6.
  it("Kuo's contours of 36.0 and 35.6 ft, 55 ft apart, make 0.0073", () => {
    expect(given<number>(gradientBetween({ head1Ft: 36, head2Ft: 35.6, distanceFt: 55 })).toFixed(4)).toBe('0.0073');
  });

  // County files, doc 453869, page 25, and doc 550642, page 30.
  it.each([
    [0.6, 110, '0.0055'],
    [0.16, 65, '0.0025'],
  ])('%s ft over %s ft is %s', (drop, distanceFt, printed) => {
    expect(given<number>(gradientBetween({ head1Ft: drop, head2Ft: 0, distanceFt })).toFixed(4)).toBe(printed);
  });

  // 0.01 ft over 50 ft.
  it('an error of 0.01 ft over 50 ft is 2e-4', () => {
    expect(gradientBetween({ head1Ft: 0.01, head2Ft: 0, distanceFt: 50 })).toBeCloseTo(2e-4, 12);
  });

  // Heath, USGS Water-Supply Paper 2220 (1983), p. 11 (from memory): 26.26, 26.20 and 26.07 m; 215 m; 68 m; 133 m.
  it("Heath's point of 26.20 m lies 68 m from the high well, and 0.13 m over 133 m is 0.00098", () => {
    const from = given<number>(distanceToHead({ head1: 26.26, head2: 26.07, distance: 215, head: 26.2 }));
    expect(from).toBeCloseTo(67.9, 1);
    expect(from.toFixed(0)).toBe('68');
    expect(given<number>(gradientBetween({ head1Ft: 26.2, head2Ft: 26.07, distanceFt: 133 })).toFixed(5)).toBe(
      '0.00098',
    );
  });

  it("Heath's three wells make the same by least squares, with the middle well anywhere on its equipotential", () => {
    const from = (215 * 0.06) / 0.19;
    const sine = 133 / (215 - from);
    fc.assert(
      fc.property(fc.double({ min: 30, max: 300, noNaN: true }), (along) => {
        const middle = at(from - along * Math.sqrt(1 - sine ** 2), along * sine, 26.2);
        const points = [at(0, 0, 26.26), at(215, 0, 26.07), middle];
        expect(flow(points).magnitude).toBeCloseTo(0.13 / 133, 9);
        for (const residual of planeOf(points).residualsFt) expect(residual).toBeCloseTo(0, 9);
      }),
    );
  });

  it.each([
    [() => gradientBetween({ head1Ft: 1, head2Ft: 0, distanceFt: 0 }), 'distance above 0'],
    [() => gradientBetween({ head1Ft: 1, head2Ft: Number.NaN, distanceFt: 1 }), 'not both numbers'],
    [() => distanceToHead({ head1: 26.26, head2: 26.07, distance: 0, head: 26.2 }), 'no line'],
    [() => distanceToHead({ head1: 26.26, head2: 26.07, distance: 215, head: 26.3 }), 'does not lie between'],
    [() => distanceToHead({ head1: 26.26, head2: 26.26, distance: 215, head: 26.26 }), 'does not lie between'],
  ])('refuses what has no answer', (ask, reason) => {
    expect(why(ask())).toContain(reason);
  });
});

describe('the plane of least squares against an independent matrix library', () => {
  const design = (points: readonly HeadPoint[], { eastFt, northFt } = { eastFt: 0, northFt: 0 }) =>
    points.map((one) => [one.eastFt - eastFt, one.northFt - northFt]);

  it('has its slopes, residuals and condition number', () => {
    fc.assert(
      fc.property(spreadWells, (points) => {
        const plane = planeOf(points);
        const rows = design(points).map((row) => [...row, 1]);
        const heads = points.map((one) => [one.headFt]);
        const [a = Number.NaN, b = Number.NaN, c = Number.NaN] = solve(
          new Matrix(rows),
          new Matrix(heads),
          true,
        ).to1DArray();
        expect(plane.eastSlope).toBeCloseTo(a, 8);
        expect(plane.northSlope).toBeCloseTo(b, 8);
        plane.residualsFt.forEach((residual, well) => {
          const { eastFt, northFt, headFt } = points[well] ?? at(0, 0, 0);
          expect(residual).toBeCloseTo(headFt - a * eastFt - b * northFt - c, 6);
        });
        const decomposed = new SingularValueDecomposition(new Matrix(design(points, plane.middle)));
        expect(plane.conditionNumber).toBeCloseTo(decomposed.condition, 4);
      }),
    );
  });

  it('carries errors as the sum of what each well does alone', () => {
    fc.assert(
      fc.property(spreadWells, (points) => {
        const { magnitude, magnitudeError, azimuthErrorDeg } = flow(points, 1e-6);
        if (magnitude < 1e-4 || azimuthErrorDeg === null) return;
        const turned = points.map((_, well) => {
          const moved = points.map((one, index) => (index === well ? { ...one, headFt: one.headFt + 1e-6 } : one));
          return flow(moved);
        });
        const along = Math.hypot(...turned.map((one) => one.magnitude - magnitude));
        expect(along / magnitudeError).toBeCloseTo(1, 3);
        const here = flow(points).flowAzimuthDeg ?? Number.NaN;
        const off = turned.map((one) => (((one.flowAzimuthDeg ?? Number.NaN) - here + 540) % 360) - 180);
        expect(Math.hypot(...off) / azimuthErrorDeg).toBeCloseTo(1, 2);
      }),
    );
  });
});

describe('properties of the plane', () => {
  it('does not mind the order of the wells', () => {
    fc.assert(
      fc.property(spreadWells, (points) => {
        const [one, other] = [planeOf(points), planeOf(points.toReversed())];
        expect(other.eastSlope).toBeCloseTo(one.eastSlope, 9);
        expect(other.northSlope).toBeCloseTo(one.northSlope, 9);
        expect(other.conditionNumber).toBeCloseTo(one.conditionNumber, 6);
      }),
    );
  });

  it('does not mind the unit: feet or metres give one gradient', () => {
    fc.assert(
      fc.property(spreadWells, (points) => {
        const metres = points.map((one) => at(one.eastFt * 0.3048, one.northFt * 0.3048, one.headFt * 0.3048));
        expect(flow(metres).magnitude).toBeCloseTo(flow(points).magnitude, 9);
      }),
    );
  });

  it('does not mind plane coordinates of millions of feet, nor another datum', () => {
    fc.assert(
      fc.property(spreadWells, (points) => {
        const far = points.map((one) => at(one.eastFt + 2_345_678, one.northFt + 987_654, one.headFt + 5_000));
        expect(flow(far).magnitude).toBeCloseTo(flow(points).magnitude, 6);
      }),
    );
  });

  it('turns with the wells', () => {
    fc.assert(
      fc.property(spreadWells, fc.double({ min: 0, max: 360, noNaN: true }), (points, turn) => {
        const before = flow(points);
        if (before.flowAzimuthDeg === null || before.magnitude < 1e-4) return;
        const [sine, cosine] = [Math.sin((turn * Math.PI) / 180), Math.cos((turn * Math.PI) / 180)];
        const turned = points.map((one) =>
          at(one.eastFt * cosine + one.northFt * sine, one.northFt * cosine - one.eastFt * sine, one.headFt),
        );
        const after = flow(turned);
        expect(after.magnitude).toBeCloseTo(before.magnitude, 8);
        const off = (((after.flowAzimuthDeg ?? Number.NaN) - before.flowAzimuthDeg - turn + 1_260) % 360) - 180;
        expect(Math.abs(off)).toBeLessThan(1e-3);
        expect(after.azimuthErrorDeg).toBeCloseTo(before.azimuthErrorDeg ?? Number.NaN, 4);
      }),
    );
  });

  it('says nothing of residuals for three wells, and a little for four', () => {
    const three = [at(0, 0, 10), at(100, 0, 9), at(0, 100, 10.5)];
    expect(planeOf(three)).toMatchObject({ wells: 3, standardResidualFt: null });
    // A fourth corner 0.4 ft too high: each of the four misses the plane by a quarter of it, with 1 degree of freedom.
    const four = planeOf([...three, at(100, 100, 9.9)]);
    expect(four.residualsFt.map((one) => Math.abs(one).toFixed(3))).toEqual(['0.100', '0.100', '0.100', '0.100']);
    expect(four.standardResidualFt).toBeCloseTo(0.2, 9);
  });

  it('is refused in a line, in one place, of two wells and of what is no number', () => {
    expect(why(planeFit([at(0, 0, 1), at(50, 50, 2), at(100, 100, 3)]))).toContain('in a line');
    expect(why(planeFit([at(0, 0, 1), at(5_000, 5_000, 2), at(10_000, 10_000.1, 3)]))).toContain('in a line');
    expect(why(planeFit([at(5, 5, 1), at(5, 5, 2), at(5, 5, 3)]))).toContain('in one place');
    expect(why(planeFit([at(0, 0, 1), at(50, 50, 2)]))).toContain('2 wells make no plane');
    expect(why(planeFit([at(0, 0, 1), at(50, Number.NaN, 2), at(1, 1, 1)]))).toContain('Well 2');
  });

  it('tells the direction badly of wells that are nearly in a line', () => {
    const narrow = [at(0, 0, 10), at(1_000, 0, 9), at(500, 20, 9.5)];
    const wide = [at(0, 0, 10), at(1_000, 0, 9), at(500, 1_000, 9.5)];
    expect(planeOf(narrow).conditionNumber).toBeGreaterThan(40);
    expect(planeOf(wide).conditionNumber).toBeLessThan(2);
    expect(flow(narrow).azimuthErrorDeg).toBeGreaterThan(20);
    expect(flow(wide).azimuthErrorDeg).toBeLessThan(1);
    expect(flow(narrow, 100).azimuthErrorDeg).toBe(180);
  });

  it.each([-0.01, Number.NaN])('refuses a level error of %s ft', (error) => {
    expect(why(horizontalGradient(planeOf(HECTARE), error))).toContain('level error');
  });
});
