import { type Refusal, refuse } from '../refusal.ts';

/**
 * Gradient between two heads: their difference over the distance along the flow, between contours or between wells that
 * stand in the direction of flow.
 *
 * Source: Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., ex. 3.6: contours of 36.0 and
 * 35.6 ft, 55 ft apart, 0.0073. Limits: between two wells that stand across the flow it is too small.
 *
 * @returns without unit, above 0 where the first head is the higher
 * @example gradientBetween({ head1Ft: 36.0, head2Ft: 35.6, distanceFt: 55 }) // 0.00727
 */
export function gradientBetween(given: {
  readonly head1Ft: number;
  readonly head2Ft: number;
  readonly distanceFt: number;
}): number | Refusal {
  const { head1Ft, head2Ft, distanceFt } = given;
  if (!(distanceFt > 0)) return refuse(`Heads ${distanceFt} ft apart have no gradient: give a distance above 0.`);
  if (!Number.isFinite(head1Ft - head2Ft)) return refuse(`Heads of ${head1Ft} and ${head2Ft} ft are not both numbers.`);
  return (head1Ft - head2Ft) / distanceFt;
}

/**
 * How far from the first of two wells a head between theirs is met, on the straight line between them: the step of the
 * three-point construction by hand.
 *
 * Source: Heath, Basic Ground-Water Hydrology, USGS Water-Supply Paper 2220 (1983), p. 11 (from memory): 26.26 and
 * 26.07 m, 215 m apart, meet 26.20 m at 68 m.
 *
 * @returns in the unit of the distance
 * @example distanceToHead({ head1: 26.26, head2: 26.07, distance: 215, head: 26.2 }) // 67.9
 */
export function distanceToHead(given: {
  readonly head1: number;
  readonly head2: number;
  readonly distance: number;
  readonly head: number;
}): number | Refusal {
  const { head1, head2, distance, head } = given;
  if (!(distance > 0)) return refuse(`Wells ${distance} apart have no line between them: give a distance above 0.`);
  const share = (head1 - head) / (head1 - head2);
  if (!(share >= 0 && share <= 1))
    return refuse(
      `A head of ${head} does not lie between ${head1} and ${head2}: choose the highest and the lowest well.`,
    );
  return share * distance;
}
