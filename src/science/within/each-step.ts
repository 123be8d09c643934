import type { Ratio } from '../ratio.ts';

/** Largest step from one reading to the next. Lets a slow drift in one direction pass for ever. */
export function eachStep(window: readonly number[]): Ratio {
  let difference = 0;
  let previous = window[0] ?? 0;
  for (const reading of window) {
    difference = Math.max(difference, Math.abs(reading - previous));
    previous = reading;
  }
  return { difference, base: 1 };
}
