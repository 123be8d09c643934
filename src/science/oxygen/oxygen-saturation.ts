import { isRefusal, type Refusal } from '../refusal.ts';
import { freshWaterSolubilityMgPerL } from './fresh-water-solubility.ts';
import { pressureFactor, pressureRefusal } from './pressure-factor.ts';
import { salinityFactor } from './salinity-factor.ts';
import { waterVapourAtm } from './water-vapour.ts';
import { MG_PER_ML, MG_PER_ML_OF_1981, weissSolubilityMlPerL } from './weiss-solubility.ts';

/**
 * Families of solubility, 0.1 to 0.3 % apart. `weiss-usgs-1981` is that of the tables printed until 2011, with their
 * factor from millilitres; `weiss` the same with the factor that it should have been.
 */
export const OXYGEN_BASES = ['benson-and-krause', 'weiss', 'weiss-usgs-1981'] as const;
export type OxygenBasis = (typeof OXYGEN_BASES)[number];

export interface OxygenSaturation {
  /** At the pressure given: what 100 % of local saturation is. */
  readonly mgPerL: number;
  /** The same water under 1 atm. */
  readonly atOneAtmMgPerL: number;
}

export interface OxygenGiven {
  readonly temperatureC: number;
  /** Of the air at the station, never reduced to sea level. */
  readonly pressureMmHg: number;
  /** Practical scale of 1978; 0 is fresh water. */
  readonly salinity: number;
  readonly basis: OxygenBasis;
}

/** The correction of the older tables: dry air only, (P - u) / (1 - u). */
function olderPressureFactor(temperatureC: number, pressureMmHg: number): number | Refusal {
  const vapour = waterVapourAtm(temperatureC);
  return pressureRefusal(pressureMmHg) ?? (pressureMmHg / 760 - vapour) / (1 - vapour);
}

function bensonAndKrause({ temperatureC, pressureMmHg, salinity }: OxygenGiven): OxygenSaturation | Refusal {
  const fresh = freshWaterSolubilityMgPerL(temperatureC);
  if (isRefusal(fresh)) return fresh;
  const salt = salinityFactor(temperatureC, salinity);
  if (isRefusal(salt)) return salt;
  const pressure = pressureFactor(temperatureC, pressureMmHg);
  if (isRefusal(pressure)) return pressure;
  return { mgPerL: fresh * salt * pressure, atOneAtmMgPerL: fresh * salt };
}

function weiss(given: OxygenGiven, mgPerMl: number): OxygenSaturation | Refusal {
  const mlPerL = weissSolubilityMlPerL(given.temperatureC, given.salinity);
  if (isRefusal(mlPerL)) return mlPerL;
  const pressure = olderPressureFactor(given.temperatureC, given.pressureMmHg);
  if (isRefusal(pressure)) return pressure;
  return { mgPerL: mlPerL * mgPerMl * pressure, atOneAtmMgPerL: mlPerL * mgPerMl };
}

/**
 * Oxygen in water saturated with moist air: C = C0 F_S F_P. Corrections multiply.
 *
 * Source: Benson and Krause 1980 and 1984; US Geological Survey, technical memorandum 2011.03 (from memory). The older
 * family: Weiss 1970, with the pressure correction (P - u)/(1 - u) of its time (from memory). Limits: 0 to 40 °C, salinity
 * 0 to 40, 380 to 836 mmHg.
 *
 * @example oxygenSaturation({ temperatureC: 20, pressureMmHg: 625, salinity: 0, basis: 'benson-and-krause' })
 *   // mgPerL: 7.440, atOneAtmMgPerL: 9.092
 */
export function oxygenSaturation(given: OxygenGiven): OxygenSaturation | Refusal {
  if (given.basis === 'weiss') return weiss(given, MG_PER_ML);
  if (given.basis === 'weiss-usgs-1981') return weiss(given, MG_PER_ML_OF_1981);
  return bensonAndKrause(given);
}
