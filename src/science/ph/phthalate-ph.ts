import { type Refusal, refuse } from '../refusal.ts';

/**
 * pH of the primary standard potassium hydrogen phthalate, 0.05 mol/kg: pH = 2073.44/T - 13.3270 + 0.045199 T - 3.4846e-5
 * T^2.
 *
 * Source: Hetzer, Durst, Robinson and Bates 1977, Journal of Research of the National Bureau of Standards 81A (doi
 * 10.6028/jres.081A.005), abstract. Limits: 0 to 40 °C here, as far as values were compared.
 *
 * @example phthalatePh(25) // 4.0059
 */
export function phthalatePh(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 40))
    return refuse(`A buffer of ${temperatureC} °C is outside 0 to 40 °C, for which its pH was compared.`);
  const kelvin = temperatureC + 273.15;
  return 2073.44 / kelvin - 13.327 + 0.045199 * kelvin - 3.4846e-5 * kelvin ** 2;
}
