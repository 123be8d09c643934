import { type Refusal, refuse } from '../refusal.ts';
import { compareText, differenceText, sumText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

/** One stroke of a bladder pump: the bladder fills, then the gas squeezes it. */
export interface PumpCycle {
  readonly refillS: string;
  readonly dischargeS: string;
}

/** Why a cycle is none; undefined where both halves have a length. */
export function cycleRefusal({ refillS, dischargeS }: PumpCycle): Refusal | undefined {
  const unread = unreadable({ refillS, dischargeS });
  if (unread) return unread;
  if (compareText(refillS, '0') > 0 && compareText(dischargeS, '0') > 0) return undefined;
  return refuse(`A cycle of ${refillS} s refill and ${dischargeS} s discharge moves no water: give both above 0 s.`);
}

/**
 * Length of a cycle and cycles a minute: CPM = 60 / (refill + discharge).
 *
 * Source: definition. @example cycleRate({ refillS: '10', dischargeS: '5' }) // 15 s, 4 a minute
 */
export function cycleRate(cycle: PumpCycle): { readonly cycleS: string; readonly perMin: number } | Refusal {
  const wrong = cycleRefusal(cycle);
  if (wrong) return wrong;
  const cycleS = sumText(cycle.refillS, cycle.dischargeS);
  return { cycleS, perMin: 60 / Number(cycleS) };
}

/**
 * A cycle with seconds moved from refill to discharge (above 0: more flow) or back (below 0: less), its length
 * unchanged. A coarse change of flow is made by pressure, a fine one by this.
 *
 * Source: common practice, no source. Limits: both halves stay above 0; where the bladder no longer fills or empties in
 * its half, moving seconds makes less flow.
 *
 * @example moveSeconds({ refillS: '10', dischargeS: '5' }, '1.5') // 8.5 and 6.5
 */
export function moveSeconds(cycle: PumpCycle, toDischargeS: string): PumpCycle | Refusal {
  const wrong = cycleRefusal(cycle) ?? unreadable({ toDischargeS });
  if (wrong) return wrong;
  const moved = {
    refillS: differenceText(cycle.refillS, toDischargeS),
    dischargeS: sumText(cycle.dischargeS, toDischargeS),
  };
  return cycleRefusal(moved) ?? moved;
}

/**
 * Which of two cycles of one length gives more flow at one pressure: the one with more discharge. Cycles of two lengths
 * are not compared, for more than the share changes.
 *
 * Source: common practice, no source.
 *
 * @returns below 0 where the first gives less
 * @example compareFlow({ refillS: '11.5', dischargeS: '3.5' }, { refillS: '8.5', dischargeS: '6.5' }) // -1
 */
export function compareFlow(a: PumpCycle, b: PumpCycle): number | Refusal {
  const wrong = cycleRefusal(a) ?? cycleRefusal(b);
  if (wrong) return wrong;
  const [first, second] = [sumText(a.refillS, a.dischargeS), sumText(b.refillS, b.dischargeS)];
  if (compareText(first, second) !== 0)
    return refuse(`Cycles of ${first} s and ${second} s differ in length: measure the flow of each instead.`);
  return compareText(a.dischargeS, b.dischargeS);
}
