import { type Refusal, refuse } from '../refusal.ts';
import { waterVapourAtm } from './water-vapour.ts';

/** Pressure in which the formula was made: 0.5 to 1.1 atm (Benson and Krause 1980, from memory). */
export const LEAST_PRESSURE_MMHG = 380;
export const MOST_PRESSURE_MMHG = 836;

/** Why a pressure cannot be that of the air at a well; undefined where it can. */
export function pressureRefusal(pressureMmHg: number): Refusal | undefined {
  if (pressureMmHg >= LEAST_PRESSURE_MMHG && pressureMmHg <= MOST_PRESSURE_MMHG) return undefined;
  return refuse(
    `An air pressure of ${pressureMmHg} mmHg is outside ${LEAST_PRESSURE_MMHG} to ${MOST_PRESSURE_MMHG} mmHg: give the pressure at the station, in the unit of its name.`,
  );
}

/**
 * By what factor the solubility of oxygen at a pressure differs from that at 1 atm: F_P = (P - u)(1 - th P) / ((1 - u)(1
 * - th)), th = 0.000975 - 1.426e-5 t + 6.436e-8 t^2, P in atm. Scaling by P/760 alone is cheap and wrong: at 20 °C and
 * 625 mmHg it gives 7.477 mg/L for 7.440, half a percent too much (computed).
 *
 * Source: Benson and Krause 1980 and 1984, read in a public implementation. Limits: 0 to 40 °C, 380 to 836 mmHg.
 *
 * @param pressureMmHg of the air at the station, never reduced to sea level
 * @example pressureFactor(20, 625) // 0.8183
 */
export function pressureFactor(temperatureC: number, pressureMmHg: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 40))
    return refuse(`Water of ${temperatureC} °C is outside 0 to 40 °C, for which the pressure factor holds.`);
  const wrong = pressureRefusal(pressureMmHg);
  if (wrong) return wrong;
  const pressure = pressureMmHg / 760;
  const vapour = waterVapourAtm(temperatureC);
  const theta = 0.000975 - 1.426e-5 * temperatureC + 6.436e-8 * temperatureC ** 2;
  return ((pressure - vapour) * (1 - theta * pressure)) / ((1 - vapour) * (1 - theta));
}
