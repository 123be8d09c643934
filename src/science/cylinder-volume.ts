import { type Refusal, refuse } from './refusal.ts';

const CM_PER_IN = 2.54;
const CM_PER_FT = 30.48;

/**
 * Volume of a length of casing or tubing: V = pi / 4 d^2 h. A casing of 2.00 in holds 617.8 mL a foot, tubing of 0.25 in
 * holds 9.653 mL a foot (computed; 1 in = 2.54 cm and 1 ft = 30.48 cm exactly).
 *
 * Takes the inside diameter: tubing is sold by its outside diameter, and 1/4 in outside is often 0.170 in inside, so
 * that the outside diameter overstates the volume 2.16 times.
 *
 * @returns millilitres
 */
export function cylinderVolumeMl(insideDiameterIn: number, lengthFt: number): number | Refusal {
  if (!(insideDiameterIn > 0))
    return refuse(`An inside diameter of ${insideDiameterIn} in holds nothing: give it above 0.`);
  if (!(lengthFt >= 0)) return refuse(`A length of ${lengthFt} ft is no length: give 0 or more.`);
  const radiusCm = (insideDiameterIn * CM_PER_IN) / 2;
  return Math.PI * radiusCm * radiusCm * lengthFt * CM_PER_FT;
}
