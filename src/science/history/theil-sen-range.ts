import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { type Reported, tooManyNonDetects } from './below-limit.ts';
import { median } from './median.ts';
import { unusablePoints } from './theil-sen.ts';

export interface TimedReport extends Reported {
  readonly time: number;
}

export interface SlopeRange {
  /** No value that the non-detects may have makes the median slope less than `least` or more than `most`. */
  readonly least: number;
  readonly most: number;
}

interface Bounds {
  readonly time: number;
  readonly low: number;
  readonly high: number;
}

/**
 * Between what the Theil-Sen slope lies, whatever the non-detects are between a floor and their limits. Where both ends
 * agree, the non-detects do not matter and that is the slope. Nothing is put in their place.
 *
 * Source: arithmetic (the median of the least, and of the largest, slopes of all pairs); refused above 20 % of
 * non-detects, where the slope is called doubtful (common practice, no source).
 *
 * @param floor the least that a non-detect may be: 0 for a concentration, -Infinity for its logarithm
 */
export function theilSenRange(points: readonly TimedReport[], floor: number): SlopeRange | Refusal {
  const unusable = unusablePoints(points, 2) ?? tooManyNonDetects(points);
  if (unusable) return unusable;
  const below = points.find((one) => !(one.value >= floor));
  if (below) return refuse(`The value ${below.value} is below the floor of ${floor}: give a floor that holds for all.`);
  const bounds: Bounds[] = points
    .toSorted((a, b) => a.time - b.time)
    .map(({ time, value, nonDetect }) => ({ time, low: nonDetect ? floor : value, high: value }));
  const slopes = (rise: (earlier: Bounds, later: Bounds) => number) =>
    bounds.flatMap((later, at) =>
      bounds.slice(0, at).map((earlier) => rise(earlier, later) / (later.time - earlier.time)),
    );
  // Of at most 20 % non-detects fewer than half of the pairs are open to one side, so both medians are finite.
  return {
    least: median(slopes((earlier, later) => later.low - earlier.high)),
    most: median(slopes((earlier, later) => later.high - earlier.low)),
  };
}

/** The slope where the non-detects cannot move it; undefined where they can. */
export function sureSlope(range: SlopeRange | Refusal): number | undefined {
  return isRefusal(range) || range.least !== range.most ? undefined : range.least;
}
