import { type Refusal, refuse } from '../refusal.ts';

/**
 * Dynamic viscosity of water at 1 atm: log10(mu / 1.002) = (20 - t) / (t + 96) (1.2364 - 0.00137 (20 - t) + 5.7e-6
 * (20 - t)^2).
 *
 * Source: Kestin, Sokolov and Wakeham, J. Phys. Chem. Ref. Data 7 (1978) 941-948 (from memory). Limits: 0 to 100 °C,
 * fresh water.
 *
 * @returns millipascal seconds
 * @example waterViscosityMPaS(25) // 0.890
 */
export function waterViscosityMPaS(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 100))
    return refuse(`Water of ${temperatureC} °C is outside 0 to 100 °C, for which the viscosity formula is used.`);
  const below = 20 - temperatureC;
  return 1.002 * 10 ** ((below / (temperatureC + 96)) * (1.2364 - 0.00137 * below + 5.7e-6 * below * below));
}
