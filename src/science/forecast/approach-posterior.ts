import { median } from '../history/median.ts';
import { type TimedValue, unusablePoints } from '../history/theil-sen.ts';
import type { Refusal } from '../refusal.ts';
import { approachShape, type Shape, timeConstants } from './approach-shapes.ts';
import { chiSquareDraw, normalDraw } from './draws.ts';
import { meanOf, roundingVariance, sumOf } from './line-fit.ts';
import type { Uniform } from './seeded-uniform.ts';

/** Level and change take two readings, the spread about them one, and the shape one more. */
export const LEAST_READINGS = 4;

interface FittedShape {
  readonly timeConstant: number;
  readonly shape: Shape;
  readonly meanShape: number;
  /** Sum of the squared distances of the shape from its mean. */
  readonly spreadOfShape: number;
  readonly meanValue: number;
  readonly change: number;
  readonly squares: number;
  /** How likely this shape is beside the others; all of them make 1. */
  readonly weight: number;
}

/** What some readings say of how a value goes on: every shape with its weight. */
export interface ApproachPosterior {
  readonly count: number;
  readonly shapes: readonly FittedShape[];
}

/** One way in which the value may go on. */
export interface Course {
  readonly at: (time: number) => number;
  /** Standard deviation of a reading about it. */
  readonly noise: number;
}

function fitShape(points: readonly TimedValue[], timeConstant: number, leastSquares: number): FittedShape {
  const times = points.map(({ time }) => time);
  const shape = approachShape(Math.min(...times), Math.max(...times), timeConstant);
  const shapes = times.map(shape);
  const [meanShape, meanValue] = [meanOf(shapes), meanOf(points.map(({ value }) => value))];
  const off = points.map(({ value }, at) => ({ shape: (shapes[at] as number) - meanShape, value: value - meanValue }));
  const spreadOfShape = sumOf(off.map((one) => one.shape ** 2));
  const change = sumOf(off.map((one) => one.shape * one.value)) / spreadOfShape;
  const squares = Math.max(sumOf(off.map((one) => (one.value - change * one.shape) ** 2)), leastSquares);
  return { timeConstant, shape, meanShape, spreadOfShape, meanValue, change, squares, weight: 0 };
}

/** The middle one of the times between two readings. */
function middleGap(times: readonly number[]): number {
  return median(times.slice(1).map((time, at) => time - (times[at] as number)));
}

/** How likely each shape makes the readings, beside the likeliest; level, change and scatter integrated out. */
function likelihoods(fitted: readonly FittedShape[], count: number): number[] {
  const logs = fitted.map((one) => -Math.log(one.spreadOfShape) / 2 - ((count - 2) / 2) * Math.log(one.squares));
  const most = Math.max(...logs);
  return logs.map((log) => Math.exp(log - most));
}

/**
 * What readings say of how their value goes on: an exponential approach to a plateau, a straight line or a run-away, with
 * normal scatter of unknown size. Each shape is fitted by least squares and weighted by how likely it makes the readings,
 * with level, change and size of the scatter integrated out (flat in level, change and logarithm of the scatter).
 *
 * Source: Bayesian linear regression for each shape, Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, ch. 14 (from
 * memory); the shapes and their equal weights beforehand are common practice, no source. The coverage of what follows
 * from it is measured in the tests.
 * Limits: at least four readings, no two of one time. Scatter that hangs together in time, or a water that changes for
 * a new reason, is not foreseen.
 *
 * @param points in any order
 * @param lastDigit the last digit to which the values were read; rounding makes at least that much scatter
 */
export function approachPosterior(points: readonly TimedValue[], lastDigit: number): ApproachPosterior | Refusal {
  const unusable = unusablePoints(points, LEAST_READINGS);
  if (unusable) return unusable;
  const count = points.length;
  const times = points.map(({ time }) => time).toSorted((a, b) => a - b);
  const span = Math.max(...times) - Math.min(...times);
  const least = (count - 2) * roundingVariance(lastDigit);
  const fitted = timeConstants(span, middleGap(times)).map((constant) => fitShape(points, constant, least));
  const likely = likelihoods(fitted, count);
  const sum = sumOf(likely);
  return { count, shapes: fitted.map((one, at) => ({ ...one, weight: (likely[at] as number) / sum })) };
}

function drawShape(shapes: readonly FittedShape[], uniform: Uniform): FittedShape {
  let left = uniform();
  const found = shapes.find(({ weight }) => {
    left -= weight;
    return left < 0;
  });
  // rounding may leave the weights a trifle short of one: the likeliest shape then stands for what is missing
  return found ?? shapes.reduce((a, b) => (b.weight > a.weight ? b : a));
}

/** Draws one way in which the value may go on: shape, size of the scatter, level and change, as likely as they are. */
export function drawCourse({ count, shapes }: ApproachPosterior, uniform: Uniform): Course {
  const { shape, meanShape, spreadOfShape, meanValue, change, squares } = drawShape(shapes, uniform);
  const noise = Math.sqrt(squares / chiSquareDraw(uniform, count - 2));
  const level = meanValue + (noise / Math.sqrt(count)) * normalDraw(uniform);
  const drawn = change + (noise / Math.sqrt(spreadOfShape)) * normalDraw(uniform);
  return { at: (time) => level + drawn * (shape(time) - meanShape), noise };
}
