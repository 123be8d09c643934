import { type Refusal, refuse } from '../refusal.ts';
import { atPlace } from './at-place.ts';
import { normalQuantileOfTail } from './normal-tail.ts';

export interface SlopeInterval {
  readonly lower: number;
  readonly upper: number;
}

/**
 * Confidence interval of a median of slopes, two-sided: the slopes at the places (N - C)/2 and (N + C)/2 + 1 of the row,
 * where C = z sqrt(Var(S)) and N is how many slopes there are. A place between two slopes is interpolated.
 *
 * Source: Gilbert 1987, Statistical Methods for Environmental Pollution Monitoring, 16.5 (from memory); US EPA, Unified
 * Guidance, EPA 530/R-09-007, 2009, Example 17-6 and Example 14-10, whose intervals it gives.
 *
 * @param sorted the slopes, ascending
 * @param confidence between 0 and 1, such as 0.95
 */
export function slopeInterval(
  sorted: readonly number[],
  variance: number,
  confidence: number,
): SlopeInterval | Refusal {
  if (!(confidence > 0 && confidence < 1))
    return refuse(`A confidence of ${confidence} is not between 0 and 1: give one such as 0.95.`);
  const reach = normalQuantileOfTail((1 - confidence) / 2) * Math.sqrt(variance);
  const first = (sorted.length - reach) / 2;
  const last = (sorted.length + reach) / 2 + 1;
  if (first < 1 || last > sorted.length)
    return refuse(
      `${sorted.length} slopes are too few for an interval of ${confidence * 100} %: it would reach past the least and the largest of them.`,
    );
  return { lower: atPlace(sorted, first), upper: atPlace(sorted, last) };
}
