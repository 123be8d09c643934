import { cylinderVolumeMl } from '../cylinder-volume.ts';
import { isRefusal, type Refusal, refuse } from '../refusal.ts';
import { type WaterVolume, waterVolume } from './water-volume.ts';

/**
 * Water in the pores of the filter pack around a casing: V = pi / 4 (d_b^2 - d_c^2) h phi, the second term of Kuo,
 * Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed., p. 40, eq. 2.15.
 *
 * Limits: h is the saturated height of the pack. d_c is the outside of the casing; Kuo takes one diameter for both
 * sides. The porosity has no default: Kuo's example has 0.40, a county file (doc 932734, page 57) assumes 0.30.
 *
 * @example packVolume({ boreholeDiameterIn: 10, casingOutsideDiameterIn: 4, saturatedPackFt: 14.5, porosity: 0.4 })
 * // cubicFeet: 2.657
 */
export function packVolume(given: {
  readonly boreholeDiameterIn: number;
  readonly casingOutsideDiameterIn: number;
  readonly saturatedPackFt: number;
  readonly porosity: number;
}): WaterVolume | Refusal {
  const { boreholeDiameterIn, casingOutsideDiameterIn, porosity } = given;
  if (!(porosity > 0 && porosity < 1))
    return refuse(`A porosity of ${porosity} is no share of pores: give one between 0 and 1, such as 0.30.`);
  const casing = cylinderVolumeMl(casingOutsideDiameterIn, given.saturatedPackFt);
  if (isRefusal(casing)) return casing;
  if (!(boreholeDiameterIn > casingOutsideDiameterIn && Number.isFinite(boreholeDiameterIn)))
    return refuse(
      `A borehole of ${boreholeDiameterIn} in has no room around a casing of ${casingOutsideDiameterIn} in: give the drilled diameter.`,
    );
  return waterVolume(casing * ((boreholeDiameterIn / casingOutsideDiameterIn) ** 2 - 1) * porosity);
}
