import { type Refusal, refuse } from '../refusal.ts';

/**
 * Potential of ZoBell's solution against the standard hydrogen electrode: 430.28 - 2.5157 (t - 25) - 0.0037979 (t - 25)^2.
 *
 * Source: Nordstrom 1977, Geochimica et Cosmochimica Acta 41, 1835-1841, as in US Geological Survey, National Field
 * Manual, chapter 6.5 (equation from memory). Limits: 5 to 40 °C. The table of Standard Methods 2580 is 7 mV lower at 5 °C
 * and 2 mV at 25 °C: say which one was used.
 *
 * @returns millivolts
 * @example zobellNordstromMv(25) // 430.28
 */
export function zobellNordstromMv(temperatureC: number): number | Refusal {
  if (!(temperatureC >= 5 && temperatureC <= 40))
    return refuse(`ZoBell's solution of ${temperatureC} °C is outside 5 to 40 °C, for which the equation is offered.`);
  const off = temperatureC - 25;
  return 430.28 - 2.5157 * off - 0.0037979 * off * off;
}
