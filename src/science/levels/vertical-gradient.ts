import { type Refusal, refuse } from '../refusal.ts';

/**
 * Vertical gradient between two wells of a nest: head of the lower less head of the upper screen, over the distance of
 * the middles of their saturated screens. Above 0 the water strives upward, below 0 downward.
 *
 * Source: Darcy's law; that the middles count is common practice, no source. Limits: wells side by side, one round; over
 * a short distance an error of 0.01 ft weighs much: it is given back as an error of the gradient.
 *
 * @param levelErrorFt standard error of one head
 * @example verticalGradient({ upperHeadFt: 100.2, lowerHeadFt: 100.5, upperMiddleElevationFt: 80, lowerMiddleElevationFt: 50,
 *   levelErrorFt: 0.01 }) // gradient: 0.01 upward
 */
export function verticalGradient(given: {
  readonly upperHeadFt: number;
  readonly lowerHeadFt: number;
  readonly upperMiddleElevationFt: number;
  readonly lowerMiddleElevationFt: number;
  readonly levelErrorFt: number;
}): { readonly gradient: number; readonly gradientError: number } | Refusal {
  const apart = given.upperMiddleElevationFt - given.lowerMiddleElevationFt;
  if (!(apart > 0))
    return refuse(
      `The upper screen, at ${given.upperMiddleElevationFt} ft, is not above the lower one, at ${given.lowerMiddleElevationFt} ft: give elevations, not depths.`,
    );
  const difference = given.lowerHeadFt - given.upperHeadFt;
  if (!Number.isFinite(difference)) return refuse('One of the heads is no number: give both as elevations in feet.');
  if (!(given.levelErrorFt >= 0)) return refuse(`A level error of ${given.levelErrorFt} ft is none: give 0 or more.`);
  return { gradient: difference / apart, gradientError: (given.levelErrorFt * Math.SQRT2) / apart };
}
