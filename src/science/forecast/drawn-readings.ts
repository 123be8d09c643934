import type { Course } from './approach-posterior.ts';
import { normalDraw } from './draws.ts';
import type { Uniform } from './seeded-uniform.ts';

/** How a meter shows what it reads. */
export interface Display {
  /** Its last digit, in the unit of the values. */
  readonly lastDigit: number;
  /** No reading is below it: 0 for a conductance. */
  readonly least: number;
  /** A figure that large is no measurement: a run-away ends there instead of at infinity. */
  readonly most: number;
}

/** A value as a meter would show it: no less than the least and no more than the most, rounded to the last digit. */
export function shown(value: number, { lastDigit, least, most }: Display): number {
  return Math.round(Math.min(most, Math.max(value, least)) / lastDigit) * lastDigit;
}

/** Readings that a meter may show at these times if the value takes this course. */
export function drawnReadings(course: Course, times: readonly number[], display: Display, uniform: Uniform): number[] {
  return times.map((time) => shown(course.at(time) + course.noise * normalDraw(uniform), display));
}

/** Readings that a meter may show if the value stands still where the course has it at a time: nothing but scatter. */
export function drawnStandingStill(
  course: Course,
  time: number,
  count: number,
  display: Display,
  uniform: Uniform,
): number[] {
  const value = course.at(time);
  return Array.from({ length: count }, () => shown(value + course.noise * normalDraw(uniform), display));
}
