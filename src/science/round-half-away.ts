const POWERS = [1_000_000, 100_000, 10_000, 1_000, 100, 10, 1];

/**
 * Rounds millionths to fewer places, halves away from zero, as meters and people do: 9.25 to one place is 9.3, and
 * -9.25 is -9.3. At 6 or more places a number stays as it is.
 */
export function roundHalfAway(value: number, places: number): number {
  const step = POWERS[places] ?? 1;
  const size = Math.abs(value);
  const rest = size % step;
  const rounded = size - rest + (2 * rest >= step && rest > 0 ? step : 0);
  return value < 0 && rounded !== 0 ? -rounded : rounded;
}
