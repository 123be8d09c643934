import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { cycleRate, type PumpCycle } from './cycle.ts';

/**
 * What one stroke must deliver for a mean flow: V = Q / CPM.
 *
 * Source: definition of the mean flow of a pulsed pump, Q = V CPM. Limits: more than the chamber holds cannot be had.
 *
 * @example strokeVolumeMl(200, { refillS: '10', dischargeS: '5' }) // 50
 */
export function strokeVolumeMl(flowMlPerMin: number, cycle: PumpCycle): number | Refusal {
  const rate = cycleRate(cycle);
  if (isRefusal(rate)) return rate;
  if (!(flowMlPerMin > 0)) return refuse(`A flow of ${flowMlPerMin} mL/min has no stroke: give it above 0.`);
  return flowMlPerMin / rate.perMin;
}

/**
 * The mean flow that strokes of a size give: Q = V CPM.
 *
 * Source: definition. @example flowOfStrokesMlPerMin(50, { refillS: '10', dischargeS: '5' }) // 200
 */
export function flowOfStrokesMlPerMin(strokeMl: number, cycle: PumpCycle): number | Refusal {
  const rate = cycleRate(cycle);
  if (isRefusal(rate)) return rate;
  return strokeMl >= 0 ? strokeMl * rate.perMin : refuse(`A stroke of ${strokeMl} mL is none: give 0 or more.`);
}
