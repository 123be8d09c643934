import { type Refusal, refuse } from '../refusal.ts';

/**
 * Pressure of the standard atmosphere at an altitude: P = 760 (1 - 2.25577e-5 h)^5.25588 mmHg, h in metres.
 *
 * Source: ISO 2533:1975, the lowest layer. Limits: -500 to 5,000 m. Weather moves the pressure at a station by 3 % to
 * either side: a barometer at the well is better.
 *
 * @returns millimetres of mercury at the station
 * @example standardPressureMmHg(1_524) // 632.4, at 5,000 ft
 */
export function standardPressureMmHg(altitudeM: number): number | Refusal {
  if (!(altitudeM >= -500 && altitudeM <= 5_000))
    return refuse(`An altitude of ${altitudeM} m is outside -500 to 5,000 m: give that of the well above sea level.`);
  return 760 * (1 - 2.25577e-5 * altitudeM) ** 5.25588;
}
