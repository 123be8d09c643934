import { type Refusal, refuse } from '../refusal.ts';
import { compareText, differenceText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

export interface SaturatedInterval {
  /** `submerged`: all of it is under water; `partly`: the water stands in it; `dry`: the water is below it. */
  readonly state: 'submerged' | 'partly' | 'dry';
  readonly topFt: string;
  readonly bottomFt: string;
  readonly lengthFt: string;
}

/**
 * The part of a screen, open hole or filter pack that is under water: from the deeper of its top and the water down to
 * its bottom. Depths are below one point, exact.
 *
 * Source: US EPA Region 1 low-stress procedure, "midpoint of the saturated screen" (from memory); geometry.
 *
 * @example saturatedInterval({ topFt: '20.0', bottomFt: '30.0', depthToWaterFt: '24.50' }) // partly, 24.50 to 30.0
 */
export function saturatedInterval(given: {
  readonly topFt: string;
  readonly bottomFt: string;
  readonly depthToWaterFt: string;
}): SaturatedInterval | Refusal {
  const unread = unreadable({ ...given });
  if (unread) return unread;
  const { topFt, bottomFt, depthToWaterFt } = given;
  if (compareText(topFt, bottomFt) >= 0)
    return refuse(
      `An interval from ${topFt} ft to ${bottomFt} ft has no length: give the top first, both below one point.`,
    );
  if (compareText(depthToWaterFt, bottomFt) >= 0)
    return { state: 'dry', topFt: bottomFt, bottomFt, lengthFt: differenceText(bottomFt, bottomFt) };
  const state = compareText(depthToWaterFt, topFt) > 0 ? 'partly' : 'submerged';
  const top = state === 'partly' ? depthToWaterFt : topFt;
  return { state, topFt: top, bottomFt, lengthFt: differenceText(bottomFt, top) };
}
