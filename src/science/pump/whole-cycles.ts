import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { cycleRate, type PumpCycle } from './cycle.ts';

/**
 * How many cycles a collection of a length spans. Only a whole number gives the mean flow: 30 s at 4 cycles a minute
 * catch 2 strokes, at 2.5 a minute 1.25, that is 1 or 2 by when it began.
 *
 * Source: arithmetic. @example cyclesSpanned(30, { refillS: '18', dischargeS: '6' }) // 1.25
 */
export function cyclesSpanned(collectionS: number, cycle: PumpCycle): number | Refusal {
  const rate = cycleRate(cycle);
  if (isRefusal(rate)) return rate;
  if (!(collectionS > 0)) return refuse(`A collection of ${collectionS} s catches nothing: give it above 0.`);
  return collectionS / Number(rate.cycleS);
}

/** How long to collect for whole cycles: the fewest that last at least as long as asked for. */
export function wholeCycleCollection(
  atLeastS: number,
  cycle: PumpCycle,
): { readonly cycles: number; readonly collectionS: number } | Refusal {
  const rate = cycleRate(cycle);
  if (isRefusal(rate)) return rate;
  if (!(atLeastS >= 0 && Number.isFinite(atLeastS)))
    return refuse(`A collection of at least ${atLeastS} s has no length: give 0 or more.`);
  const cycles = Math.max(1, Math.ceil(atLeastS / Number(rate.cycleS)));
  return { cycles, collectionS: cycles * Number(rate.cycleS) };
}

/**
 * Mean flow from what whole cycles gave: collected volume over their time.
 *
 * Source: common practice, no source: average over at least one whole cycle. Limits: begin and end at the same moment of
 * the cycle.
 *
 * @example meanFlowMlPerMin(100, 2, { refillS: '10', dischargeS: '5' }) // 200
 */
export function meanFlowMlPerMin(collectedMl: number, cycles: number, cycle: PumpCycle): number | Refusal {
  const rate = cycleRate(cycle);
  if (isRefusal(rate)) return rate;
  if (!(Number.isInteger(cycles) && cycles > 0))
    return refuse(`${cycles} cycles are not whole: collect whole cycles, from one discharge to a later one.`);
  if (!(collectedMl >= 0)) return refuse(`A collected volume of ${collectedMl} mL is none: give 0 or more.`);
  return (collectedMl / cycles) * rate.perMin;
}
