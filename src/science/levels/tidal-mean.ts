import { type Refusal, refuse } from '../refusal.ts';

/** Hourly values that the filter needs: 24 + 24 + 25 - 2. */
export const TIDAL_HOURS = 71;

function movingMean(values: readonly number[], width: number): number[] {
  return Array.from({ length: values.length - width + 1 }, (_, at) => {
    let sum = 0;
    for (const value of values.slice(at, at + width)) sum += value;
    return sum / width;
  });
}

/**
 * Mean level of a tidal well over its tides from 71 hourly values: a moving mean over 24 h, one of those over 24 h, and
 * the mean of the 25 that are left. It belongs to the middle hour and takes the daily and half-daily tides out to less
 * than a thousandth; a plain 24-h mean leaves 3.5 % of the lunar tide of 12.42 h.
 *
 * Source: Serfes, Determining the mean hydraulic gradient of ground water affected by tidal fluctuations, Ground Water
 * 29 (1991) 549-555 (from memory). Limits: values one hour apart without a gap; the fortnightly tide stays in.
 *
 * @returns in the unit of the values
 */
export function tidalMean(hourlyValues: readonly number[]): number | Refusal {
  if (hourlyValues.length !== TIDAL_HOURS)
    return refuse(
      `${hourlyValues.length} hourly values cannot be filtered: give ${TIDAL_HOURS} in a row, 35 before and 35 after the middle.`,
    );
  if (!hourlyValues.every((value) => Number.isFinite(value)))
    return refuse('One of the hourly values is no number: a gap cannot be filtered over, give 71 without one.');
  const twice = movingMean(movingMean(hourlyValues, 24), 24);
  return twice.reduce((sum, value) => sum + value, 0) / twice.length;
}
