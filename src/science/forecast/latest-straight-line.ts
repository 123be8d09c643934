import type { TimedValue } from '../history/theil-sen.ts';
import { isRefusal, type Refusal } from '../refusal.ts';
import { fitLine, type LineFit, meanOf, roundingVariance, valueOnLine } from './line-fit.ts';
import { checkedStudentQuantile } from './student-quantile.ts';

/** Values that a bend can be told from: a parabola takes three, and one is left over to judge by. */
const LEAST_FOR_A_BEND = 4;

/** Whether a parabola fits better than the line by more than chance makes it. */
function isBent(points: readonly TimedValue[], line: LineFit, lastDigit: number, confidence: number): boolean {
  const squares = points.map(({ time }) => (time - line.meanTime) ** 2);
  const [meanSquare, third] = [meanOf(squares), meanOf(points.map(({ time }) => (time - line.meanTime) ** 3))];
  const slopeOfSquares = (third * points.length) / line.spreadOfTimes;
  let [size, together, rest] = [0, 0, 0];
  for (const { time, value } of points) {
    const bend = (time - line.meanTime) ** 2 - meanSquare - slopeOfSquares * (time - line.meanTime);
    const off = value - valueOnLine(line, time);
    size += bend * bend;
    together += bend * off;
    rest += off * off;
  }
  const explained = together ** 2 / size;
  const degreesOfFreedom = points.length - 3;
  const variance = Math.max((rest - explained) / degreesOfFreedom, roundingVariance(lastDigit));
  return explained > checkedStudentQuantile(degreesOfFreedom, confidence) ** 2 * variance;
}

/** A line and how many values it was fitted through. */
export interface LatestLine {
  readonly line: LineFit;
  readonly values: number;
}

/**
 * The straight line through the latest of some timed values: the earliest are left out while a parabola fits
 * significantly better, down to three. A level that falls fast when the pump starts and then slowly is told by how it
 * falls now.
 *
 * Source: the test of a squared term, Draper & Smith, Applied Regression Analysis, 3rd ed. 1998 (from memory); to apply
 * it so is common practice, no source. What that does to the interval of a forecast is measured in the tests.
 *
 * @param points in the order of time
 * @param lastDigit the last digit to which the values were read: 0.01 for a tape
 * @param confidence of the test and of the interval of the slope, such as 0.95
 */
export function latestStraightLine(
  points: readonly TimedValue[],
  lastDigit: number,
  confidence: number,
): LatestLine | Refusal {
  const line = fitLine(points, lastDigit, confidence);
  if (isRefusal(line)) return line;
  const bent = points.length >= LEAST_FOR_A_BEND && isBent(points, line, lastDigit, confidence);
  return bent ? latestStraightLine(points.slice(1), lastDigit, confidence) : { line, values: points.length };
}
