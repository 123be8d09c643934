import { type Refusal, refuse } from '../refusal.ts';
import type { LineFit } from './line-fit.ts';

/** A line of which it is certain that it rises or falls. */
export interface MovingLine extends LineFit {
  readonly moves: 'up' | 'down';
}

/** Whether a line moves: its slope is further from zero than it may be off. */
export function movingLine(line: LineFit): MovingLine | Refusal {
  const { slope, slopeReach } = line;
  if (Math.abs(slope) > slopeReach) return { ...line, moves: slope > 0 ? 'up' : 'down' };
  return refuse(
    `A slope of ${slope} within ${slopeReach} either way may as well be zero: the values cannot be said to move. Wait, and measure again.`,
  );
}

export interface CrossingTime {
  readonly time: number;
  /** Between which times the line crosses, with the confidence that it was fitted for. */
  readonly earliest: number;
  readonly latest: number;
}

/**
 * When a fitted line crosses a value, with its confidence interval, by Fieller's theorem: all times at which the value is
 * not at odds with the line. A line whose slope may as well be zero has no such interval, so only a moving one is taken.
 *
 * Source: Fieller 1954, Journal of the Royal Statistical Society B 16, 175-185; Draper & Smith, Applied Regression
 * Analysis, 3rd ed. 1998, 3.2, inverse regression (from memory). Its coverage is measured in the tests.
 * Limits: it says when the line gets there, if nothing changes; a single value scatters about the line. A crossing
 * in the past is given as well.
 *
 * @example a level that falls by 0.05 a minute and is 1 above the value crosses it after 20 minutes
 */
export function crossingTime(line: MovingLine, value: number): CrossingTime {
  const { slope, meanTime, meanValue, spreadOfTimes, variance, degreesOfFreedom, t, slopeReach } = line;
  const away = (value - meanValue) / slope;
  const left = 1 - (slopeReach / slope) ** 2;
  const count = degreesOfFreedom + 2;
  const half = ((t * Math.sqrt(variance)) / Math.abs(slope)) * Math.sqrt(left / count + away ** 2 / spreadOfTimes);
  return { time: meanTime + away, earliest: meanTime + (away - half) / left, latest: meanTime + (away + half) / left };
}
