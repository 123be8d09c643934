import { type Refusal, refuse } from '../refusal.ts';

/**
 * Oxygen in fresh water in equilibrium with moist air of 1 atm: ln C = -139.34411 + 1.575701e5/T - 6.642308e7/T^2 +
 * 1.243800e10/T^3 - 8.621949e11/T^4, T in kelvins.
 *
 * Source: Benson and Krause 1980 and 1984 (Limnology and Oceanography 25, 662-671 and 29, 620-632), read in two public
 * implementations; basis of the tables of the US Geological Survey since its technical memorandum 2011.03. Limits: 0 to
 * 40 °C.
 *
 * @returns milligrams per litre
 * @example freshWaterSolubilityMgPerL(20) // 9.092
 */
export function freshWaterSolubilityMgPerL(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 40))
    return refuse(`Water of ${temperatureC} °C is outside 0 to 40 °C, for which oxygen solubility is known.`);
  const kelvin = temperatureC + 273.15;
  return Math.exp(
    -139.34411 + 1.575701e5 / kelvin - 6.642308e7 / kelvin ** 2 + 1.2438e10 / kelvin ** 3 - 8.621949e11 / kelvin ** 4,
  );
}
