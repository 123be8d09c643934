import { cylinderVolumeMl } from '../cylinder-volume.ts';
import { isRefusal, type Refusal, refuse } from '../refusal.ts';

export interface SystemVolume {
  readonly tubingMl: number;
  readonly systemMl: number;
}

/**
 * Water in pump, water line and flow cell together: V = P + pi / 4 D^2 L + fc. In the units of the trade
 * P + 0.041 D^2 L + fc gallons, D in inches and L in feet; the constant is 0.0408 (0.04079990 exactly).
 *
 * Source: the equipment volume of Florida DEP FS 2200 (DEP-SOP-001/01, Jan 2017), from memory; geometry. Limits: D is
 * the inside diameter.
 *
 * @example systemVolume({ pumpMl: 150, tubingInsideDiameterIn: 0.17, tubingLengthFt: 56, flowCellMl: 250 }) // 650 mL
 */
export function systemVolume(given: {
  readonly pumpMl: number;
  readonly tubingInsideDiameterIn: number;
  readonly tubingLengthFt: number;
  readonly flowCellMl: number;
}): SystemVolume | Refusal {
  const { pumpMl, flowCellMl } = given;
  if (!(pumpMl >= 0 && flowCellMl >= 0))
    return refuse(`A pump of ${pumpMl} mL and a cell of ${flowCellMl} mL: give both as 0 mL or more.`);
  const tubingMl = cylinderVolumeMl(given.tubingInsideDiameterIn, given.tubingLengthFt);
  return isRefusal(tubingMl) ? tubingMl : { tubingMl, systemMl: pumpMl + tubingMl + flowCellMl };
}
