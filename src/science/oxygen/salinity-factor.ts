import { type Refusal, refuse } from '../refusal.ts';

/**
 * By what factor salt lowers the solubility of oxygen: F_S = exp(-S (0.017674 - 10.754/T + 2140.7/T^2)).
 *
 * Source: Benson and Krause 1984, Limnology and Oceanography 29, 620-632, read in a public implementation. Limits: 0 to
 * 40 °C, salinity 0 to 40 on the practical scale of 1978.
 *
 * @example salinityFactor(20, 9) // 0.948
 */
export function salinityFactor(temperatureC: number, salinity: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 40))
    return refuse(`Water of ${temperatureC} °C is outside 0 to 40 °C, for which the salinity factor holds.`);
  if (!(salinity >= 0 && salinity <= 40))
    return refuse(`A salinity of ${salinity} is outside 0 to 40, for which the salinity factor holds.`);
  const kelvin = temperatureC + 273.15;
  return Math.exp(-salinity * (0.017674 - 10.754 / kelvin + 2140.7 / kelvin ** 2));
}
