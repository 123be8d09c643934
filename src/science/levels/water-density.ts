import { type Refusal, refuse } from '../refusal.ts';

/**
 * Density of air-free fresh water at 1 atm: 1000 (1 - (t - 3.983035)^2 (t + 301.797) / (522528.9 (t + 69.34881))) x
 * 0.99997495.
 *
 * Source: Tanaka, Girard, Davis, Peuto and Bignell, Metrologia 38 (2001) 301-309, the CIPM formula (from memory);
 * checked against a seawater library and the published column of water in psi a foot. Limits: 0 to 40 °C, fresh water;
 * dissolved solids of 1,000 mg/L add about 0.07 %.
 *
 * @returns kilograms per cubic metre
 * @example waterDensityKgPerM3(10) // 999.70
 */
export function waterDensityKgPerM3(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 40))
    return refuse(`Water of ${temperatureC} °C is outside 0 to 40 °C, for which the density formula holds.`);
  const off = temperatureC - 3.983035;
  return 999.97495 * (1 - (off * off * (temperatureC + 301.797)) / (522_528.9 * (temperatureC + 69.34881)));
}
