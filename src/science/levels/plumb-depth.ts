import { type Refusal, refuse } from '../refusal.ts';

/**
 * What a taut tape reads in a well that is out of plumb: the slant, sqrt(depth^2 + offset^2). In a well that is 1 ft out
 * in 100 ft it reads 100.005 ft.
 *
 * Source: USGS Pacific Islands, errors of synoptic surveys, archived web page; Pythagoras.
 *
 * @param offsetFt horizontal distance between the measuring point and the water
 * @example slantFt(100, 1) // 100.005
 */
export function slantFt(plumbDepthFt: number, offsetFt: number): number | Refusal {
  if (!(plumbDepthFt >= 0)) return refuse(`A depth of ${plumbDepthFt} ft is not below the point: give 0 or more.`);
  if (!Number.isFinite(offsetFt)) return refuse(`An offset of ${offsetFt} ft is no distance: give a finite number.`);
  return Math.hypot(plumbDepthFt, offsetFt);
}

/** The depth straight down under a taut tape's reading: sqrt(reading^2 - offset^2). Source: as for `slantFt`. */
export function plumbDepthFt(tapeReadingFt: number, offsetFt: number): number | Refusal {
  if (!(tapeReadingFt >= Math.abs(offsetFt)))
    return refuse(
      `A tape of ${tapeReadingFt} ft cannot reach ${offsetFt} ft to the side: give the reading and the offset in feet.`,
    );
  return Math.sqrt((tapeReadingFt - offsetFt) * (tapeReadingFt + offsetFt));
}
