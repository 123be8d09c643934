import { type Refusal, refuse } from '../refusal.ts';

const GAS_CONSTANT = 8.314462618;
const FARADAY = 96_485.33212;

/**
 * What a perfect electrode changes in a unit of pH: R T ln 10 / F, in millivolts.
 *
 * Source: Nernst equation, constants of CODATA 2018. Limits: 0 to 100 °C.
 *
 * @example nernstSlopeMv(25) // 59.16
 */
export function nernstSlopeMv(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 100))
    return refuse(`A buffer of ${temperatureC} °C is not liquid water: give 0 to 100 °C.`);
  return (1_000 * GAS_CONSTANT * (temperatureC + 273.15) * Math.LN10) / FARADAY;
}
