import { type Refusal, refuse } from '../refusal.ts';

/** Milligrams in a millilitre of oxygen, which is no ideal gas: 31.9988 g in 22.392 L at 0 °C and 1 atm. */
export const MG_PER_ML = 1.42905;

/**
 * The factor of the older tables of the US Geological Survey, that of an ideal gas. Its memorandum 2011.03 calls it
 * incorrect; who checks an old form needs it.
 */
export const MG_PER_ML_OF_1981 = 1.4276;

/**
 * Oxygen in water in equilibrium with moist air of 1 atm by the older basis: ln C = -173.4292 + 249.6339 (100/T) +
 * 143.3483 ln(T/100) - 21.8492 (T/100) + S (-0.033096 + 0.014259 (T/100) - 0.0017000 (T/100)^2).
 *
 * Source: Weiss 1970, Deep-Sea Research 17, 721-735, read in public implementations; basis of US Geological Survey,
 * technical memoranda 81.11 (8 May 1981) and 99.01 (1 Oct 1998), which gave it up with 2011.03. Limits: 0 to 40 °C,
 * salinity 0 to 40.
 *
 * @returns millilitres of oxygen gas at 0 °C and 1 atm, per litre
 * @example weissSolubilityMlPerL(20, 0) // 6.352
 */
export function weissSolubilityMlPerL(temperatureC: number, salinity: number): number | Refusal {
  if (!(temperatureC >= 0 && temperatureC <= 40))
    return refuse(`Water of ${temperatureC} °C is outside 0 to 40 °C, for which oxygen solubility is known.`);
  if (!(salinity >= 0 && salinity <= 40))
    return refuse(`A salinity of ${salinity} is outside 0 to 40, for which oxygen solubility is known.`);
  const part = (temperatureC + 273.15) / 100;
  const fresh = -173.4292 + 249.6339 / part + 143.3483 * Math.log(part) - 21.8492 * part;
  return Math.exp(fresh + salinity * (-0.033096 + 0.014259 * part - 0.0017 * part ** 2));
}
