import { type Refusal, refuse } from '../refusal.ts';
import type { OxygenSaturation } from './oxygen-saturation.ts';

export interface PercentSaturation {
  /** Of what the water could take up from the air here. */
  readonly ofLocalPercent: number;
  /** Of what it could take up under 1 atm: at 5,000 ft water in equilibrium with the air shows about 83 %. */
  readonly ofOneAtmPercent: number;
}

/**
 * Percent saturation in both meanings in use, which agree only at 1 atm. Meters show one or the other, and some let the
 * user choose.
 *
 * Source: definition; a public implementation of Benson and Krause uses 1 atm on purpose. Limits: those of the saturation.
 *
 * @example percentSaturation(7.44, { mgPerL: 7.44, atOneAtmMgPerL: 9.092 }) // ofLocalPercent: 100, ofOneAtmPercent: 81.8
 */
export function percentSaturation(mgPerL: number, saturation: OxygenSaturation): PercentSaturation | Refusal {
  if (!(mgPerL >= 0 && mgPerL < 1_000))
    return refuse(`Dissolved oxygen of ${mgPerL} mg/L is no content of water: give 0 or more.`);
  return {
    ofLocalPercent: (100 * mgPerL) / saturation.mgPerL,
    ofOneAtmPercent: (100 * mgPerL) / saturation.atOneAtmMgPerL,
  };
}
