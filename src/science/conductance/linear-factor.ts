import { type Refusal, refuse } from '../refusal.ts';

/**
 * The factor from a conductivity at the temperature of the water to 25 °C, linear: 1 / (1 + alpha (t - 25)).
 *
 * Source: definition; alpha 0.0191 per °C of Standard Methods 2510 B (from memory) is that of potassium chloride near 18
 * °C (computed from NIST values), 0.02 is the other one that meters use. Limits: 0 to 40 °C, alpha 0.01 to 0.03.
 *
 * @example linearFactor(0.0191, 10) // 1.4015
 */
export function linearFactor(alphaPerC: number, temperatureC: number): number | Refusal {
  if (!(alphaPerC >= 0.01 && alphaPerC <= 0.03))
    return refuse(`A temperature coefficient of ${alphaPerC} per °C is outside 0.01 to 0.03: 2 % is 0.02.`);
  if (!(temperatureC >= 0 && temperatureC <= 40))
    return refuse(`Water of ${temperatureC} °C is outside 0 to 40 °C, for which a linear factor is used.`);
  return 1 / (1 + alphaPerC * (temperatureC - 25));
}
