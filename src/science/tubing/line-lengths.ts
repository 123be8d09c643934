import { type Refusal, refuse } from '../refusal.ts';
import { compareText, sumText } from '../units/decimal-arithmetic.ts';
import { unreadable } from '../units/unreadable.ts';

export interface LineLengths {
  readonly waterLineFt: string;
  readonly airLineFt: string;
}

/**
 * What to cut: the depth of the pump below the measuring point, and what each line needs from there to the flow cell or
 * the regulator. The water line is left longer than the air line at the surface, so that the two are told apart and the
 * water line reaches the cell.
 *
 * Source: common practice, no source. Limits: straight lines; both leave the pump at one depth.
 *
 * @example lineLengths({ pumpDepthFt: '50.0', waterLineAtSurfaceFt: '6', airLineAtSurfaceFt: '4' }) // 56.0 and 54.0
 */
export function lineLengths(given: {
  readonly pumpDepthFt: string;
  readonly waterLineAtSurfaceFt: string;
  readonly airLineAtSurfaceFt: string;
}): LineLengths | Refusal {
  const unread = unreadable({ ...given });
  if (unread) return unread;
  const { pumpDepthFt, waterLineAtSurfaceFt, airLineAtSurfaceFt } = given;
  const short = Object.entries(given).find(([, length]) => compareText(length, '0') <= 0);
  if (short) return refuse(`${short[0]} of ${short[1]} ft is no length of line: give it above 0.`);
  if (compareText(waterLineAtSurfaceFt, airLineAtSurfaceFt) <= 0)
    return refuse(
      `A water line with ${waterLineAtSurfaceFt} ft at the surface is not longer than the air line with ${airLineAtSurfaceFt} ft: leave the water line longer.`,
    );
  return {
    waterLineFt: sumText(pumpDepthFt, waterLineAtSurfaceFt),
    airLineFt: sumText(pumpDepthFt, airLineAtSurfaceFt),
  };
}
