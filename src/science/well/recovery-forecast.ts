import { type Refusal, refuse } from '../refusal.ts';

/**
 * Minutes from the second of two levels until a share of the drawdown is back, if the water keeps rising as it did: the
 * residual drawdown falls by the same factor in the same time, s(t) = s1 exp(-t / T).
 *
 * Source: basic time lag of Hvorslev 1951, Bulletin 36 of the Waterways Experiment Station (from memory).
 * Limits: inflow in proportion to the residual drawdown, so not while water runs down inside the screen, nor with the
 * sand pack still draining. It says when to look again, not what the level will be.
 *
 * @param residualDrawdown1Ft first level less static level, above 0
 * @param residualDrawdown2Ft later level less static level
 * @param minutesBetween time between the two
 * @param share of the whole drawdown that shall be back: 0.8
 * @param wholeDrawdownFt lowest level less static level
 * @returns 0 where the share is back already
 * @example minutesToRecover({ residualDrawdown1Ft: 8, residualDrawdown2Ft: 4, minutesBetween: 10, share: 0.8,
 *   wholeDrawdownFt: 10 }) // 10: from 4 ft to 2 ft takes as long as from 8 ft to 4 ft
 */
export function minutesToRecover(given: {
  readonly residualDrawdown1Ft: number;
  readonly residualDrawdown2Ft: number;
  readonly minutesBetween: number;
  readonly share: number;
  readonly wholeDrawdownFt: number;
}): number | Refusal {
  const { residualDrawdown1Ft, residualDrawdown2Ft, minutesBetween, share, wholeDrawdownFt } = given;
  if (!(minutesBetween > 0)) return refuse(`${minutesBetween} min between two levels are no time: give them in order.`);
  if (!(share > 0 && share < 1))
    return refuse(`A share of ${share} is not reached in a finite time: give one between 0 and 1, such as 0.8.`);
  if (!(wholeDrawdownFt > 0)) return refuse(`A drawdown of ${wholeDrawdownFt} ft needs no recovery: give one above 0.`);
  const target = (1 - share) * wholeDrawdownFt;
  if (residualDrawdown2Ft <= target) return 0;
  if (!(residualDrawdown2Ft < residualDrawdown1Ft))
    return refuse(
      `The water does not rise: ${residualDrawdown1Ft} ft below static, then ${residualDrawdown2Ft} ft. Wait, and measure again.`,
    );
  return (
    (minutesBetween * Math.log(residualDrawdown2Ft / target)) / Math.log(residualDrawdown1Ft / residualDrawdown2Ft)
  );
}
