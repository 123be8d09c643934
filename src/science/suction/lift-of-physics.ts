import { waterDensityKgPerM3 } from '../levels/water-density.ts';
import { pressureRefusal } from '../oxygen/pressure-factor.ts';
import { standardPressureMmHg } from '../oxygen/standard-atmosphere.ts';
import { waterVapourAtm } from '../oxygen/water-vapour.ts';
import { isRefusal, type Refusal } from '../refusal.ts';

const PA_PER_MMHG = 133.322387415;
const PA_PER_ATM = 101_325;
const STANDARD_GRAVITY = 9.80665;
const M_PER_FT = 0.3048;

/**
 * How high the air can push water up a line from which all air is drawn: H = (P_air - P_vapour) / (rho g). No suction
 * pump of any make lifts higher, for there the water boils; it counts from the pumping level to the pump head.
 *
 * Source: hydrostatics, with the vapour pressure of Benson and Krause 1980 and the CIPM density of water; standard
 * gravity. Limits: 0 to 40 °C, 380 to 836 mmHg, fresh water; a line without leaks and without flow.
 *
 * @param stationPressureMmHg of the air at the station, never reduced to sea level
 * @example suctionLiftOfPhysicsFt(760, 10) // 33.5
 */
export function suctionLiftOfPhysicsFt(stationPressureMmHg: number, waterTemperatureC: number): number | Refusal {
  const wrong = pressureRefusal(stationPressureMmHg);
  if (wrong) return wrong;
  const density = waterDensityKgPerM3(waterTemperatureC);
  if (isRefusal(density)) return density;
  const pushPa = stationPressureMmHg * PA_PER_MMHG - waterVapourAtm(waterTemperatureC) * PA_PER_ATM;
  return pushPa / (density * STANDARD_GRAVITY) / M_PER_FT;
}

/**
 * The same at an altitude in the standard atmosphere (ISO 2533:1975, lowest layer, -500 to 5,000 m). Weather moves the
 * air by 3 % to either side, and the lift with it: a barometer at the well is better.
 *
 * @example suctionLiftAtAltitudeFt(5_000, 30) // 26.9
 */
export function suctionLiftAtAltitudeFt(altitudeFt: number, waterTemperatureC: number): number | Refusal {
  const pressure = standardPressureMmHg(altitudeFt * M_PER_FT);
  return isRefusal(pressure) ? pressure : suctionLiftOfPhysicsFt(pressure, waterTemperatureC);
}
